"""Ledgers of any length for the benchmark: a farm's plan walked morning after morning, plainly invented.

One plan of 28 days is made and then walked over and over, and each day's mishaps are its own, so that the last month of
ten years is the month that it is compared with.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, date, datetime, time, timedelta
from pathlib import Path
from random import Random
from typing import Final

from demo_racks import room_path
from demo_racks.fresh import fresh_text
from schedules.history import history_of
from schedules.ledger import Leftovers, Noted, Observed, PostedServing, Posting, Reason, Skipped, Undone, What
from schedules.ledger.admission import admitted
from schedules.ledger.declaration import Content
from schedules.ledger.entries.plan.packed import pack
from schedules.ledger.entries.plan.posted import POSTED
from schedules.ledger.lines import Draft, draft_of
from schedules.ledger.stores.filling import filling_at
from schedules.ledger.stores.memory import MemoryLedger
from schedules.ledger.stores.sqlite.inserting import Inserter
from schedules.planning.horizon import HORIZON_DAYS
from schedules.planning.posting import plan_days, posted_servings
from schedules.room import Room
from schedules.room.place import Place
from schedules.room_file import load_room
from schedules.round import as_served

TODAY: Final = date(2026, 11, 25)
KEEPERS: Final = ("Ana", "Ben", "Cleo")
SKIPPED, MISSED, MISTAKEN, NOTED = 0.02, 0.01, 0.01, 0.8
"""How many of the servings are skipped and missed, how many of the stops are undone and marked again, noted."""
FINDINGS: Final[tuple[Leftovers, ...]] = ("none",) * 40 + ("some", "some", "most")
"""These keepers look at every serving again, which makes about 2.5 million entries of ten years."""
Due = tuple[PostedServing, ...]


def farm(directory: Path) -> Room:
    """The invented farm as of the benchmark's day."""
    file = directory / "farm.toml"
    file.write_text(fresh_text(room_path("farm").read_text("utf-8"), TODAY), "utf-8")
    return load_room(file)


def cycle_of(room: Room) -> tuple[Due, ...]:
    """What is due on each day of a plan of four weeks."""
    history = history_of(MemoryLedger(), TODAY)
    problem, made = plan_days(room, history, TODAY, HORIZON_DAYS)
    return posted_servings(room, history, problem, made)


def write_years(place: Place, cycle: tuple[Due, ...], days: int, seed: int = 1) -> int:
    """Write the ledger of the `days` days before `TODAY`, and today's plan; the number of its entries."""
    packed = [pack(Posting(TODAY, _from(cycle, number))) for number in range(len(cycle))]
    walked = _Walked(seed)
    seq = 0
    with filling_at(place) as inserter:
        for number in range(-days, 1):
            day = TODAY + timedelta(days=number)
            phase = number % len(cycle)
            posting = Posting(day, _from(cycle, phase))
            seq = _post(inserter, posting, packed[phase])
            for act in walked.day(day, cycle[phase]) if number < 0 else ():
                seq = walked.write(inserter, act, day)
    return seq


def _from(cycle: tuple[Due, ...], number: int) -> tuple[Due, ...]:
    return cycle[number:] + cycle[:number]


def _post(inserter: Inserter, posting: Posting, packed: Content) -> int:
    """Post a plan whose packed form is known but for its start."""
    content: Content = packed | {"start": posting.start.isoformat()}
    at = datetime.combine(posting.start, time(6), UTC)
    return inserter.insert([Draft(posting, POSTED.version, content)], posting.start, at, None)[0].seq


class _Walked:
    """The rounds as they were walked, with what goes wrong now and then."""

    def __init__(self, seed: int) -> None:
        self.seed = seed
        self.chance = Random(seed)
        self.last = 0
        self.at = datetime.min.replace(tzinfo=UTC)

    def day(self, day: date, due: Due) -> Iterator[tuple[What, ...]]:
        """The acts of one day, stop by stop: the same ones however long ago the ledger began."""
        self.chance = Random(self.seed + day.toordinal())
        for tank in dict.fromkeys(serving.tank for serving in due):
            stop = [serving for serving in due if serving.tank == tank and self.chance.random() >= MISSED]
            if stop:
                yield tuple(self._mark(serving) for serving in stop)
                if self.chance.random() < MISTAKEN:
                    yield (Undone(self.last),)
                    yield tuple(self._mark(serving) for serving in stop)
            for serving in stop:
                yield (Observed(tank, serving.feed, self.chance.choice(FINDINGS)),)
            if self.chance.random() < NOTED:
                yield (Noted(tank, "two empty shells by the moss"),)

    def _mark(self, serving: PostedServing) -> What:
        if self.chance.random() < SKIPPED:
            return Skipped(serving.tank, serving.feed, serving.round, Reason.other("leftovers lying"))
        return as_served(serving)

    def write(self, inserter: Inserter, act: tuple[What, ...], day: date) -> int:
        """Write one act; the number of its last entry."""
        self.at = max(self.at + timedelta(seconds=5), datetime.combine(day, time(7), UTC))
        keeper = KEEPERS[day.toordinal() % len(KEEPERS)]
        what, at = admitted(act, day, self.at, keeper)
        made = inserter.insert([draft_of(one) for one in what], day, at, keeper)
        self.last = made[0].act
        return made[-1].seq
