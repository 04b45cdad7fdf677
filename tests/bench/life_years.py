"""What the fold of the animals costs after ten years of a farm of 240 tanks, against a month and a year of it.

Run by hand: `python -m tests.bench.life_years`. Prints the times and their ratios, from one run. A farm that begins
with its file's animals has about two groups of animals a tank after a month; after a year there are four or five. So
ten years are also set against the last month of the same farm, with a room file that has its animals as of then.
"""

from __future__ import annotations

import gc
from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC, date, datetime, time, timedelta
from pathlib import Path
from random import Random
from tempfile import TemporaryDirectory
from time import process_time
from typing import Final

from schedules.history.life import Group, life_of, room_as_of
from schedules.history.life.fold import LifeFold
from schedules.history.life.reading import sum_up
from schedules.ledger import Saw, Sighting, Undone, What
from schedules.ledger.admission import admitted
from schedules.ledger.entries.animals.sighting import SIGHTING
from schedules.ledger.lines import draft_of
from schedules.ledger.stores.sqlite import open_ledger
from schedules.ledger.stores.sqlite.filling import filling
from schedules.ledger.stores.sqlite.inserting import Inserter
from schedules.room import Presence, Room
from schedules.room.kinds import Stage
from tests.bench.ledger_years import TODAY, farm

A_YEAR: Final[dict[Saw, float]] = {
    "berried": 6,
    "eyed": 3,
    "hatch": 6,
    "count": 4,
    "dead": 6,
    "moved": 3,
    "sold": 6,
    "culled": 1,
    "added": 0.5,
}
"""How often each is seen in a tank in a year: about 35 entries, 85,000 in ten years of 240 tanks. Invented."""
MISTAKEN: Final = 0.02
RUNS: Final = 30
DAYS_BEHIND: Final = 4
"""Some 92 sightings."""


def main() -> None:
    """Fill both ledgers and compare."""
    with TemporaryDirectory() as folder:
        room = farm(Path(folder))
        paths = [
            _filled(Path(folder) / name, room, days)
            for name, days in (("month.db", 30), ("year.db", 365), ("years.db", 3653))
        ]
        same, began = _last_month(Path(folder), room, paths[-1])
        gc.collect()
        gc.freeze()  # what is left of the filling is not looked through again while the fold is timed
        farms = [*((path, room) for path in paths), (same, began)]
        runs = [[_once(path, of) for path, of in farms] for _ in range(RUNS)]  # in turn, so that all meet the same load
        times = [min(each) for each in zip(*runs, strict=True)]
    month, year, years, last_month = (1000 * time for time in times)
    print(f"a month {month:.1f} ms, a year {year:.1f} ms, ten years {years:.1f} ms")  # noqa: T201
    print(f"ten years against a month {years / month:.2f} ×, against a year {years / year:.2f} ×")  # noqa: T201
    print(f"the last month alone {last_month:.1f} ms; ten years against it {years / last_month:.2f} ×")  # noqa: T201


def _filled(path: Path, room: Room, days: int) -> Path:
    """A ledger of the sightings of so many days before today, as any farm's it was opened every day."""
    chance = Random(7)
    count = 0
    with filling(path) as inserter:
        for number in range(-days, 0):
            day = TODAY + timedelta(days=number)
            for what in _seen(room, chance):
                act = _write(inserter, what, day)
                count += 1
                if chance.random() < MISTAKEN:
                    _write(inserter, Undone(act), day)
    ledger = open_ledger(path)
    try:
        # Opened every day, the last census is as old as it can get: fewer sightings behind than would make a new one.
        sum_up(ledger, room, TODAY - timedelta(days=DAYS_BEHIND), datetime.combine(TODAY, time(7), UTC))
    finally:
        ledger.close()
    print(f"{path.name}: {count} sightings")  # noqa: T201
    return path


def _last_month(folder: Path, room: Room, path: Path) -> tuple[Path, Room]:
    """The last 30 days of a ledger by themselves, and the room with the animals as they were before these."""
    first = TODAY - timedelta(days=30)
    ledger = open_ledger(path)
    try:
        seen = ledger.of_kind(SIGHTING.name)
    finally:
        ledger.close()
    fold = LifeFold(room)
    fold.take_in(entry for entry in seen if entry.day < first)
    fold.reach_day(first)
    tanks = dict(room.tanks)
    for tank, groups in fold.state().groups.items():
        tanks[tank] = replace(tanks[tank], animals=tuple(_as_written(group) for group in groups if group.heads))
    month = folder / "last_month.db"
    with filling(month) as inserter:
        for entry in seen:
            if entry.day >= first:
                _write(inserter, entry.what, entry.day)
    return month, replace(room, tanks=tanks)


def _as_written(group: Group) -> Presence:
    """A group as a keeper writes it into the room file."""
    return Presence(group.stage, group.heads, last=group.until, length=group.length, hatched=group.hatched)


def _write(inserter: Inserter, what: What, day: date) -> int:
    settled, at = admitted([what], day, datetime.combine(day, time(7), UTC), "Ana")
    return inserter.insert([draft_of(settled[0])], day, at, "Ana")[0].act


def _seen(room: Room, chance: Random) -> Iterator[Sighting]:
    tanks = list(room.tanks)
    for tank in tanks:
        for saw, often in A_YEAR.items():
            if chance.random() < often / 365:
                to = chance.choice([each for each in tanks if each != tank]) if saw == "moved" else None
                stage: Stage = "shrimplet" if saw == "hatch" else "adult"
                heads = {"hatch": 30, "count": chance.randrange(10, 90), "sold": 10}.get(saw, chance.randrange(1, 4))
                yield Sighting(tank, saw, stage, heads, saw != "hatch", to=to)


def _once(path: Path, room: Room) -> float:
    ledger = open_ledger(path)
    try:
        began = process_time()
        room_as_of(room, life_of(ledger, room, TODAY), TODAY)
        return process_time() - began
    finally:
        ledger.close()


if __name__ == "__main__":
    main()
