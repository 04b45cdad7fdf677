"""What an edited room file changes: in the room, and in the coming days' plan. Nothing is taken in here."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date, timedelta
from typing import Any, Final, Literal

from schedules.history import History, looking_ahead
from schedules.ledger import Posting
from schedules.planning.horizon import HORIZON_DAYS
from schedules.planning.posting import today_and_on
from schedules.room import Room
from schedules.session.session import Session

ChangeCode = Literal["new", "gone", "changed", "renamed", "walk", "setting"]
SETTINGS: Final = ("rounds", "keepers", "clocks", "name", "zone", "units", "appetite", "tools", "water")
"""What a room has besides tanks, feeds and racks."""


@dataclass(frozen=True, slots=True)
class RoomChange:
    """One difference: tanks or feeds that are new, gone, changed or only renamed, the walk, or a setting by its name.

    `kind` is "tank", "feed" or "" where it is about neither; `ids` are those of the tanks or feeds, or the setting.
    """

    code: ChangeCode
    kind: str = ""
    ids: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class PlanChange:
    """How many servings of the `days` days after today come and go; today itself stays as posted."""

    days: int
    added: int
    gone: int


def only_names(old: Room, new: Room) -> bool:
    """Whether two rooms differ in nothing but the names of the room, its racks, tanks, places and feeds."""
    return _nameless(old) == _nameless(new)


def room_changes(old: Room, new: Room) -> tuple[RoomChange, ...]:
    """The differences of two rooms; empty where there is none."""
    found = [*_of_kind("tank", old.tanks, new.tanks), *_of_kind("feed", old.feeds, new.feeds)]
    if old.walk != new.walk and set(old.walk) == set(new.walk):
        found.append(RoomChange("walk"))
    settings = [name for name in SETTINGS if getattr(old, name, None) != getattr(new, name, None)]
    if [rack.name for rack in old.racks] != [rack.name for rack in new.racks]:
        settings.append("racks")
    return (*found, *(RoomChange("setting", "", (name,)) for name in settings))


def plan_question(session: Session, room: Room) -> Callable[[], PlanChange]:
    """What answers how an edited room would change the coming days: slow, and safe to run in another thread.

    What is needed of the ledger is read at once. Raises `LedgerFault`.
    """
    history = looking_ahead(session.history, session.ledger, HORIZON_DAYS - 1)
    earlier = session.ledger.posting(session.day)
    old, today = session.room, session.day
    return lambda: plan_change(old, room, history, earlier, today)


def plan_change(old: Room, new: Room, history: History, earlier: Posting | None, today: date) -> PlanChange:
    """How the plan of the days after today differs between two rooms, each made as the next morning would make it.

    `earlier` is the whole posting in force, which both plans follow; `history` reaches as far as a plan does.
    """
    before, after = (_planned(room, history, earlier, today) for room in (old, new))
    return PlanChange(HORIZON_DAYS - 1, len(after - before), len(before - after))


def _planned(room: Room, history: History, earlier: Posting | None, today: date) -> frozenset[tuple[int, str, str]]:
    made = today_and_on(room, history, today, earlier)
    return frozenset(
        (number, due.tank, due.feed)
        for number in range(1, HORIZON_DAYS)
        for due in made.due(today + timedelta(days=number))
    )


def _of_kind(kind: str, old: Mapping[str, Any], new: Mapping[str, Any]) -> Iterator[RoomChange]:
    changed = [each for each in new if each in old and old[each] != new[each]]
    renamed = tuple(each for each in changed if _unnamed(old[each]) == _unnamed(new[each]))
    found: tuple[tuple[ChangeCode, tuple[str, ...]], ...] = (
        ("new", tuple(each for each in new if each not in old)),
        ("gone", tuple(each for each in old if each not in new)),
        ("renamed", renamed),
        ("changed", tuple(each for each in changed if each not in renamed)),
    )
    return (RoomChange(code, kind, ids) for code, ids in found if ids)


def _unnamed(each: Any) -> Any:
    """A tank without its name and place, or a feed without its name."""
    return replace(each, name="", place="") if hasattr(each, "place") else replace(each, name="")


def _nameless(room: Room) -> Room:
    return replace(
        room,
        name="",
        racks=tuple(replace(rack, name="") for rack in room.racks),
        tanks={tank.id: _unnamed(tank) for tank in room.tanks.values()},
        feeds={feed.id: _unnamed(feed) for feed in room.feeds.values()},
    )
