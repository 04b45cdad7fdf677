"""What the fold of the animals costs after ten years of a farm of 240 tanks, against a month and a year of it.

Run by hand: `python -m tests.bench.life_years`. Prints the times and their ratios, from one run. A farm that begins
with its file's animals has about two groups of animals a tank after a month; after a year there are four or five.
"""

from __future__ import annotations

import gc
from collections.abc import Iterator
from datetime import UTC, date, datetime, time, timedelta
from pathlib import Path
from random import Random
from tempfile import TemporaryDirectory
from time import perf_counter
from typing import Final

from schedules.history.life import life_of, room_as_of
from schedules.history.life.reading import sum_up
from schedules.ledger import Saw, Sighting, Undone, What
from schedules.ledger.admission import admitted
from schedules.ledger.lines import draft_of
from schedules.ledger.stores.sqlite import open_ledger
from schedules.ledger.stores.sqlite.filling import filling
from schedules.ledger.stores.sqlite.inserting import Inserter
from schedules.room import Room
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
RUNS: Final = 7
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
        gc.collect()
        gc.freeze()  # what is left of the filling is not looked through again while the fold is timed
        times = [min(_once(path, room) for _ in range(RUNS)) for path in paths]
    month, year, years = (1000 * time for time in times)
    print(f"a month {month:.1f} ms, a year {year:.1f} ms, ten years {years:.1f} ms")  # noqa: T201
    print(f"ten years against a month {years / month:.2f} ×, against a year {years / year:.2f} ×")  # noqa: T201


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
        began = perf_counter()
        room_as_of(room, life_of(ledger, room, TODAY), TODAY)
        return perf_counter() - began
    finally:
        ledger.close()


if __name__ == "__main__":
    main()
