"""Twenty keepers on one morning of a room of 1,000 tanks, each a process of its own, on a ledger of either store.

Two keepers come to every tank, so half of all marks are refused. Each keeper catches up after each mark, as the
dashboard does. What is counted: no serving twice, no mark lost, and how long the ledger took to admit a mark.
"""

from __future__ import annotations

import json
import multiprocessing
from contextlib import closing
from dataclasses import dataclass
from multiprocessing.synchronize import Barrier
from pathlib import Path
from random import Random
from tempfile import TemporaryDirectory
from time import perf_counter, sleep
from typing import Final

from schedules.history import history_of, refresh
from schedules.ledger import AlreadyMarked, PostedServing, Posting, Served, feed_of, tank_of
from schedules.ledger.copies.verify import verify
from schedules.ledger.stores.opening import open_at
from schedules.room.place import Place
from schedules.round import as_served
from tests.ledger.builders import DAY, MORNING, due, write

TANKS: Final = 1000
KEEPERS: Final = 20
FEEDS: Final = ("flake", "moss")
PATIENCE: Final = 30.0


@dataclass(frozen=True, slots=True)
class Morning:
    """What came of it: faults found, marks admitted and refused, milliseconds of each admission, seconds in all."""

    wrong: list[str]
    admitted: int
    refused: int
    took: list[float]
    seconds: float

    def percentile(self, share: float) -> float:
        """The milliseconds within which so many of the marks were admitted."""
        return sorted(self.took)[min(len(self.took) - 1, int(share * len(self.took)))]


def stop(tank: int) -> tuple[PostedServing, ...]:
    """What is due in a tank."""
    return tuple(due(f"t{tank:04}", feed) for feed in FEEDS)


def walk(place: Place, number: int, pause: float, start: Barrier, results: Path) -> None:
    """One keeper's morning: every tenth tank, as another keeper does too, from a place of their own on."""
    chance, took, mine, refused = Random(number), list[float](), list[int](), 0
    tanks = [tank for tank in range(TANKS) if tank % (KEEPERS // 2) == number % (KEEPERS // 2)]
    tanks = tanks if number < KEEPERS // 2 else tanks[::-1]
    with closing(open_at(place, patience=PATIENCE)) as ledger:
        history = history_of(ledger, DAY)
        start.wait()
        for tank in tanks:
            sleep(chance.expovariate(1 / pause) if pause else 0)
            what = [as_served(serving) for serving in stop(tank)]
            begun = perf_counter()
            try:
                ledger.append(what, day=DAY, at=MORNING, by=f"keeper {number}")
                took.append((perf_counter() - begun) * 1000)
                mine.append(tank)
            except AlreadyMarked:
                refused += 1
            if ledger.changed() or mine:
                history = refresh(history, ledger)
    results.write_text(json.dumps({"took": took, "mine": mine, "refused": refused}))


def morning(place: Place, pause: float) -> Morning:
    """Let all keepers walk at once, `pause` seconds on average between two tanks of each."""
    with closing(open_at(place)) as ledger:
        write(ledger, Posting(DAY, (tuple(each for tank in range(TANKS) for each in stop(tank)),)), by=None)
    context = multiprocessing.get_context("spawn")
    start = context.Barrier(KEEPERS + 1)
    with TemporaryDirectory() as folder:
        results = [Path(folder) / f"{number}.json" for number in range(KEEPERS)]
        keepers = [
            context.Process(target=walk, args=(place, number, pause, start, result))
            for number, result in enumerate(results)
        ]
        for keeper in keepers:
            keeper.start()
        start.wait()
        begun = perf_counter()
        for keeper in keepers:
            keeper.join()
        seconds = perf_counter() - begun
        told = [json.loads(result.read_text()) for result in results]
    took = [each for one in told for each in one["took"]]
    wrong = _wrong(place, {f"keeper {number}": one["mine"] for number, one in enumerate(told)})
    return Morning(wrong, len(took), sum(one["refused"] for one in told), took, seconds)


def _wrong(place: Place, mine: dict[str, list[int]]) -> list[str]:
    """What is not as it must be: each serving given once, by the keeper who was told so, and the ledger sound."""
    with closing(open_at(place)) as ledger:
        marks = [entry for entry in ledger.read(DAY, DAY) if isinstance(entry.what, Served)]
    given = [(tank_of(entry.what), feed_of(entry.what), entry.by) for entry in marks]
    expected = {(each.tank, each.feed, name) for name, tanks in mine.items() for tank in tanks for each in stop(tank)}
    wrong = verify(place)
    if len(given) != TANKS * len(FEEDS) or len({each[:2] for each in given}) != len(given):
        wrong.append(f"{len(given)} servings given where {TANKS * len(FEEDS)} were due")
    if set(given) != expected:
        wrong.append(f"{len(expected ^ set(given))} servings are not as the keepers were told")
    return wrong
