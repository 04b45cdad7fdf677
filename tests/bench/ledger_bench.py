"""What ten years of ledger cost beside one month, in one run.

    python -m tests.bench.ledger_bench [--years 10] [--repeats 25] [--keep DIRECTORY]

Both ledgers are of the same farm of 240 tanks and end on the same day. Every measure is taken on one and then on the
other, over and over, and the medians are compared, so that whatever else the machine does falls on both.
"""

from __future__ import annotations

import argparse
import gc
import sys
from collections.abc import Callable, Iterator
from contextlib import closing, contextmanager
from datetime import UTC, datetime, timedelta
from pathlib import Path
from statistics import median
from tempfile import TemporaryDirectory
from time import perf_counter
from typing import Final

from schedules.history import History, history_of, refresh
from schedules.ledger import Ledger, Noted
from schedules.ledger.stores.sqlite import open_ledger
from schedules.review.flags import flags
from schedules.review.missed import Turns, missed
from schedules.room import Room
from schedules.round import round_sheet
from tests.bench.ledger_years import TODAY, cycle_of, farm, write_years

NOW: Final = datetime(2026, 11, 25, 7, 30, tzinfo=UTC)
MONTH: Final = 30
ALLOWED: Final = 1.3
Measures = dict[str, list[float]]


@contextmanager
def timed(measures: Measures, name: str) -> Iterator[None]:
    """Add the milliseconds that the body takes."""
    gc.collect()
    begun = perf_counter()
    yield
    measures.setdefault(name, []).append((perf_counter() - begun) * 1000)


def morning(room: Room, path: Path, measures: Measures) -> None:
    """What a keeper does on one morning, each part timed."""
    since = TODAY - timedelta(days=14)
    with timed(measures, "opening"):
        ledger = open_ledger(path)
        history = history_of(ledger, TODAY)
    with closing(ledger):
        with timed(measures, "today's round"):
            round_sheet(room, history, TODAY, TODAY, room.rounds[0].id)
        with timed(measures, "flags"):
            flags(room, history, NOW)
        with timed(measures, "missed"):
            missed(room, history, Turns(ledger.postings(since, TODAY)), TODAY, since)
        _marks(ledger, history, path, measures)


def _marks(ledger: Ledger, history: History, path: Path, measures: Measures) -> None:
    """A mark of one's own and one by somebody else; notes, so that every repeat finds the ledger as it was."""
    with timed(measures, "a mark"):
        ledger.append([Noted("a1", "all well")], day=TODAY, at=NOW, by="Ana")
    with timed(measures, "the last act"):
        ledger.last_act("Ana")
    history = refresh(history, ledger)
    with closing(open_ledger(path)) as other:
        other.append([Noted("a2", "all well")], day=TODAY, at=NOW, by="Ben")
    with timed(measures, "a mark by another"):
        ledger.changed()
        refresh(history, ledger)


def table(month: Measures, years: Measures) -> Iterator[tuple[str, float, float, float]]:
    """Name, medians of both in ms, their ratio."""
    for name, values in month.items():
        yield name, median(values), median(years[name]), median(years[name]) / median(values)


def make(directory: Path, days: int, make_one: Callable[[Path, int], int]) -> tuple[Path, float]:
    """A ledger of a number of days, made unless it is there already; its path and its bytes per entry."""
    path = directory / f"farm-{days}.ledger.db"
    if not path.exists():
        begun = perf_counter()
        count = make_one(path, days)
        sys.stdout.write(f"{days} days: {count} entries written in {perf_counter() - begun:.0f} s\n")
    with closing(open_ledger(path)) as ledger:
        count = ledger.last_seq()
    return path, path.stat().st_size / count


def run(directory: Path, years: int, repeats: int) -> bool:
    """Print the table; whether every ratio is within what is allowed."""
    room = farm(directory)
    cycle = cycle_of(room)
    lengths = {"month": MONTH, "years": round(years * 365.25)}
    made = {name: make(directory, days, lambda path, n: write_years(path, cycle, n)) for name, days in lengths.items()}
    measures: dict[str, Measures] = {name: {} for name in made}
    for _ in range(repeats + 1):
        for name, (path, _size) in made.items():
            morning(room, path, measures[name])
    for each in measures.values():
        for values in each.values():
            del values[0]
    sys.stdout.write(f"{'':20}{'one month':>12}{f'{years} years':>12}{'ratio':>8}\n")
    ratios = []
    for name, of_month, of_years, ratio in table(measures["month"], measures["years"]):
        ratios.append(ratio)
        sys.stdout.write(f"{name:20}{of_month:9.2f} ms{of_years:9.2f} ms{ratio:8.2f}\n")
    sizes = {name: size for name, (_, size) in made.items()}
    sys.stdout.write(f"{'size per entry':20}{sizes['month']:10.0f} B{sizes['years']:11.0f} B\n")
    return max(ratios) <= ALLOWED


def main() -> int:
    """The command line: exit 0 if ten years cost no more than is allowed."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0] if __doc__ else None)
    parser.add_argument("--years", type=int, default=10)
    parser.add_argument("--repeats", type=int, default=25)
    parser.add_argument("--keep", type=Path, help="a directory in which the ledgers are made and kept")
    options = parser.parse_args()
    if options.keep is not None:
        options.keep.mkdir(parents=True, exist_ok=True)
        return 0 if run(options.keep, options.years, options.repeats) else 1
    with TemporaryDirectory() as directory:
        return 0 if run(Path(directory), options.years, options.repeats) else 1


if __name__ == "__main__":
    sys.exit(main())
