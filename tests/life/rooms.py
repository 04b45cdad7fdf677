"""Two to four tanks with a few animals, and sightings of any kind in any order."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import replace
from datetime import date, timedelta
from typing import Any

from hypothesis import strategies as st

from schedules.history.life import Life
from schedules.history.life.fold import LifeFold
from schedules.ledger import Entry, Saw, Sighting
from schedules.ledger.entries.animals.sighting import LEAVING
from schedules.room import Presence, Room, Tank, Water
from schedules.room.heads import CLASSES
from schedules.room.kinds import STAGES, Stage
from tests.amounts.rooms import make_feed, make_room, make_tank
from tests.ledger.builders import MORNING

DAY = date(2026, 11, 1)
TANKS = ("a1", "b2", "c3")
SAWS: tuple[Saw, ...] = ("berried", "eyed", "hatch", "count", "dead", "moved", "sold", "culled", "added")


def room_of(*animals: Presence, celsius: float | None = 26.0, others: tuple[Presence, ...] = ()) -> Room:
    """A room of three tanks: the first with some animals, the others with none or with `others`."""
    feed = make_feed("dust", "powder")
    tanks = [make_tank(tank, [feed], animals=animals if tank == "a1" else others) for tank in TANKS]
    return make_room([feed], *(replace(tank, water=Water(celsius)) for tank in tanks))


def sighting(saw: Saw, heads: int = 1, *, tank: str = "a1", stage: Stage | None = None, **other: Any) -> Sighting:
    usual: Stage = "shrimplet" if saw == "hatch" else "adult"
    exact = other.pop("exact", True)
    if saw == "moved":
        other.setdefault("to", "b2" if tank != "b2" else "a1")
    return Sighting(tank, saw, stage or usual, heads, exact, **other)


def entries(*seen: tuple[int, Sighting]) -> tuple[Entry, ...]:
    """Entries of acts of their own, each about the day so many after `DAY`."""
    return tuple(
        Entry(seq, seq, DAY + timedelta(days=days), MORNING, "Ana", what) for seq, (days, what) in enumerate(seen, 1)
    )


def folded(room: Room, seen: Iterable[Entry]) -> Life:
    fold = LifeFold(room)
    fold.take_in(seen)
    return fold.life()


def heads(life: Life, room: Room, day: date, tank: str, stage: str | None = None) -> int:
    """Head count of a tank on a day by the fold, of all stages or of one."""
    animals = life.animals.get(tank, room.tanks[tank].animals if tank in room.tanks else ())
    return sum(here.count for here in animals if here.on(day) and stage in (None, here.stage))


@st.composite
def sightings(draw: st.DrawFn) -> Sighting:
    saw = draw(st.sampled_from(SAWS))
    tank = draw(st.sampled_from((*TANKS, "gone")))
    stage = {"hatch": "shrimplet", "berried": "adult", "eyed": "adult"}.get(saw) or draw(st.sampled_from(STAGES))
    exact = draw(st.booleans())
    number = draw(st.integers(0, 60) if exact else st.sampled_from(tuple(CLASSES)))
    to = draw(st.sampled_from([each for each in TANKS if each != tank])) if saw == "moved" else None
    line = draw(st.sampled_from((None, "red", "blue")))
    left = saw in LEAVING and stage == "adult"
    berried = draw(st.none() | st.integers(0, min(number, 3))) if left else None
    return Sighting(tank, saw, stage, number, exact, to=to, line=line, berried=berried)  # type: ignore[arg-type]


@st.composite
def presences(draw: st.DrawFn) -> Presence:
    """Animals as a room file may have them, open at the end so that no head leaves by a date."""
    first = draw(st.none() | st.integers(-60, 20).map(lambda days: DAY + timedelta(days=days)))
    return Presence(draw(st.sampled_from(STAGES)), draw(st.integers(0, 80)), first=first)


rooms = st.builds(
    lambda animals, celsius: room_of(*animals, celsius=celsius),
    st.lists(presences(), max_size=4),
    st.sampled_from((None, 21.0, 24.0, 26.0, 33.0)),
)
pasts = st.lists(st.tuples(st.integers(0, 200), sightings()), max_size=25).map(lambda seen: entries(*seen))


Who = tuple[Stage, date | None, bool]


def who(tank: Tank, day: date) -> Counter[Who]:
    """How many of each stage and hatch day are in a tank on a day, those expected apart."""
    found = Counter[Who]()
    for here in tank.animals:
        if here.on(day):
            found[here.stage, here.hatch_day, here.expected] += here.count
    return found
