"""The state of the fold as a text, and back: what a census in the ledger holds."""

from __future__ import annotations

import json
import zlib
from base64 import b64decode, b64encode
from collections.abc import Mapping
from dataclasses import astuple, dataclass
from datetime import date
from functools import lru_cache
from hashlib import blake2b
from typing import Any, Final

from schedules.history.life.values import Brood, Group
from schedules.room import Presence, Room

FOLD: Final = 2
"""The version of the fold's rules: a census made by others is not used."""


@dataclass(frozen=True, slots=True)
class State:
    """What the fold knows at the end of a day: the groups of each tank of which anything was seen, broods, arrivals."""

    groups: Mapping[str, tuple[Group, ...]]
    broods: Mapping[str, tuple[Brood, ...]]
    arrived: Mapping[str, date]


def hash_of(room: Room) -> str:
    """A hash of all that the fold takes from the room file, and of the fold's rules."""
    said = [
        (tank.id, tank.water.temperature, [_of_file(here) for here in tank.animals]) for tank in room.tanks.values()
    ]
    return blake2b(repr((FOLD, said)).encode(), digest_size=16).hexdigest()


def _of_file(here: Presence) -> tuple[object, ...]:
    days = _number(here.first), _number(here.last), _number(here.hatched)
    return here.stage, here.count, here.berried, here.length, *days


def text_of(state: State) -> str:
    """A state as a text."""
    written = [
        {tank: [_group_numbers(group) for group in groups] for tank, groups in state.groups.items()},
        {tank: [_brood_numbers(brood) for brood in broods] for tank, broods in state.broods.items()},
        {tank: day.toordinal() for tank, day in state.arrived.items()},
    ]
    return b64encode(zlib.compress(json.dumps(written, separators=(",", ":")).encode())).decode()


def state_of(text: str) -> State:
    """A state again. A ValueError where the text is none."""
    try:
        groups, broods, arrived = json.loads(zlib.decompress(b64decode(text)))
        return _state(groups, broods, arrived)
    except (zlib.error, TypeError, AttributeError, OverflowError, RecursionError) as wrong:
        raise ValueError(f"the state of a census cannot be read: {wrong}") from None


def _state(groups: Any, broods: Any, arrived: Any) -> State:
    return State(
        {tank: _groups(listed) for tank, listed in groups.items()},
        {tank: tuple(_brood(*each) for each in listed) for tank, listed in broods.items()},
        {tank: date.fromordinal(day) for tank, day in arrived.items()},
    )


def _group_numbers(group: Group) -> list[Any]:
    return [_number(each) if isinstance(each, date) else each for each in group]


def _groups(rows: Any) -> tuple[Group, ...]:
    """Groups from their numbers: in one go, since a farm has a thousand of them."""
    return tuple(
        Group(stage, heads, _day(since), origin, place, _day(hatched), _day(turns), _day(until), *others)
        for stage, heads, since, origin, place, hatched, turns, until, *others in rows
    )


def _brood_numbers(brood: Brood) -> list[Any]:
    tank, heads, berried, eyed, origin = astuple(brood)
    return [tank, heads, _number(berried), _number(eyed), origin]


def _brood(tank: str, heads: int, berried: int | None, eyed: int | None, origin: int) -> Brood:
    return Brood(tank, heads, _day(berried), _day(eyed), origin)


def _number(day: date | None) -> int | None:
    return None if day is None else day.toordinal()


@lru_cache(maxsize=8192)
def _day(number: int | None) -> date | None:
    return None if number is None else date.fromordinal(number)
