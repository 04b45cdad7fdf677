"""A rack's make-up water as one list: few batches that suit several tanks each, pure water, and the room's waters."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from math import ceil, sqrt
from typing import Final

from schedules.history import History
from schedules.room import Room, Tools
from schedules.room.water.rules import Band
from schedules.water.makeup.advice import MakeUpWater
from schedules.water.makeup.cautions import Caution, cautions_for
from schedules.water.makeup.known import bands_of, middle_of, minerals_of, salts_of
from schedules.water.makeup.minerals import DISSOLVED, Dissolved, Minerals
from schedules.water.makeup.salting import recipe
from schedules.water.makeup.tank import TopOff, tank_top_off

SPARE: Final = 1.05
"""What a batch holds more than the tanks need: what stays in hoses and jugs. Common practice, no source."""
BATCH_STEP_LITRES: Final = 0.5
_HAIR: Final = 1e-9


@dataclass(frozen=True, slots=True)
class Weighed:
    """Grams of a salt for one filling, a whole number of the scale's digits; `error` the scale's, as a part of them.

    `error` is None without a scale.
    """

    salt: str
    grams: float
    error: float | None


@dataclass(frozen=True, slots=True)
class Batch:
    """One make-up water: what goes into each filling of the canister, what it holds, and litres by tank.

    `fillings` times `litres` of the room's water `source`, with the salts of each filling; None for pure water, and a
    water that the keeper makes is pure water until its salts are in. `jugs` is how many jugs are carried in all.
    """

    source: str | None
    fillings: int
    litres: float
    salts: tuple[Weighed, ...]
    minerals: Minerals
    tanks: tuple[tuple[str, float], ...]
    jugs: int

    @property
    def total(self) -> float:
        """Litres of all fillings."""
        return self.fillings * self.litres


@dataclass(frozen=True, slots=True)
class MakeUp:
    """What to make ready for some tanks on a day: batches, each tank's needs, tanks of which too little is known."""

    day: date
    batches: tuple[Batch, ...]
    tanks: tuple[TopOff, ...]
    unknown: tuple[str, ...]
    cautions: tuple[Caution, ...]


def rack_make_up(room: Room, history: History, day: date, rack: str | None = None) -> MakeUp:
    """The make-up water of a rack, or of the whole room, on a day: top-offs, and the changes that are due on it.

    Tanks share a batch as long as one water lies within the bands of all of them.
    """
    tanks = [tank for tank in room.walk if rack is None or room.tanks[tank].rack == rack]
    wanted = _shared(tanks, {tank: bands_of(room, room.tanks[tank]) for tank in tanks})
    found = tuple(tank_top_off(room, history, room.tanks[tank], day, wanted=wanted[tank]) for tank in tanks)
    needed: dict[MakeUpWater, dict[str, float]] = {}
    for each in found:
        for water, litres in _today(each):
            of_tanks = needed.setdefault(water, {})
            of_tanks[each.tank] = of_tanks.get(each.tank, 0.0) + litres
    batches = tuple(_batch(room.tools, _with_salts(room, water), of_tanks) for water, of_tanks in needed.items())
    return MakeUp(
        day=day,
        batches=batches,
        tanks=found,
        unknown=tuple(each.tank for each in found if each.unknown is not None),
        cautions=cautions_for(
            salts=any(each.salts for each in batches),
            changes=any(each.change_today > 0 for each in found),
        ),
    )


def _today(need: TopOff) -> Iterator[tuple[MakeUpWater, float]]:
    """What a tank gets on the day: its first portion of what is poured in, and as much of a change as that leaves."""
    if need.pour is not None:
        share = need.pour.days[0] / sum(need.pour.days)
        yield from ((water, litres * share) for water, litres in need.pour.parts)
    if need.change is not None and need.change.water is not None and need.change_today > 0:
        yield need.change.water, need.change_today


def _with_salts(room: Room, water: MakeUpWater) -> MakeUpWater:
    """A water that the keeper makes, with the salts it takes; it holds what the salts come to."""
    if water.source is None or not room.waters[water.source].made:
        return water
    made = recipe(minerals_of(room, None), salts_of(room), water.minerals)
    return water if made is None else MakeUpWater(water.source, made.grams, made.minerals)


def _batch(tools: Tools, water: MakeUpWater, tanks: Mapping[str, float]) -> Batch:
    asked = sum(tanks.values()) * (SPARE if water.grams else 1.0)
    most = tools.canister_litres or asked
    fillings = max(1, ceil(asked / most - _HAIR))
    litres = min(most, _up(asked / fillings, BATCH_STEP_LITRES)) if water.grams else asked / fillings
    salts = tuple(_weighed(tools, salt, grams * litres) for salt, grams in water.grams)
    jugs = sum(ceil(litres * 1000 / tools.jug_ml - _HAIR) for litres in tanks.values())
    return Batch(water.source, fillings, litres, salts, water.minerals, tuple(tanks.items()), jugs)


def _weighed(tools: Tools, salt: str, grams: float) -> Weighed:
    """Grams as the scale can show them. Its error is half a digit twice, once for the empty cup."""
    if tools.scale_mg is None:
        return Weighed(salt, grams, None)
    digit = tools.scale_mg / 1000
    shown = max(1, round(grams / digit)) * digit
    return Weighed(salt, shown, digit / 2 * sqrt(2) / shown)


def _shared(tanks: Sequence[str], bands: Mapping[str, Mapping[Dissolved, Band]]) -> dict[str, Minerals]:
    """What make-up water is to hold for each tank: the middle of what the tanks that share it all allow.

    Each tank joins the first water that suits it, in the order of their upper ends, as when points are chosen that
    stab intervals: for one quantity that takes the fewest waters.
    """
    groups: list[tuple[dict[Dissolved, Band], list[str]]] = []
    for tank in sorted(tanks, key=lambda each: _upper(bands[each])):
        for held, members in groups:
            both = _overlap(held, bands[tank])
            if both is not None:
                held.update(both)
                members.append(tank)
                break
        else:
            groups.append((dict(_closed(bands[tank])), [tank]))
    return {tank: middle_of(held) for held, members in groups for tank in members}


def _upper(bands: Mapping[Dissolved, Band]) -> tuple[float, ...]:
    ends = (bands.get(each) for each in ("gh", "kh", "tds"))
    return tuple(float("inf") if end is None or end.high is None else end.high for end in ends)


def _closed(bands: Mapping[Dissolved, Band]) -> dict[Dissolved, Band]:
    """The bands that make-up water is made for: those with two ends."""
    return {each: Band(band.low, band.high) for each, band in bands.items() if None not in (band.low, band.high)}


def _overlap(one: Mapping[Dissolved, Band], other: Mapping[Dissolved, Band]) -> dict[Dissolved, Band] | None:
    """What two tanks both allow; None where that is nothing, or where one has a band that the other has not."""
    there = _closed(other)
    if one.keys() != there.keys():
        return None
    found: dict[Dissolved, Band] = {}
    for each in DISSOLVED:
        if each in one:
            low, high = _most(one[each].low, there[each].low), -_most(_minus(one[each].high), _minus(there[each].high))
            if low > high:
                return None
            found[each] = Band(low, high)
    return found


def _most(*values: float | None) -> float:
    return max(value for value in values if value is not None)


def _minus(value: float | None) -> float | None:
    return None if value is None else -value


def _up(value: float, step: float) -> float:
    return ceil(value / step - _HAIR) * step
