"""Let many programs mark the same servings at the same moment: exactly one may be first with each.

python -m tests.ledger.race --programs 8 --servings 500 --store server
"""

from __future__ import annotations

import argparse
import json
import multiprocessing
import sys
from collections import Counter
from contextlib import closing
from multiprocessing.synchronize import Barrier
from pathlib import Path
from tempfile import TemporaryDirectory

from schedules.ledger import AlreadyMarked
from schedules.ledger.copies.verify import verify
from schedules.ledger.stores.opening import open_at
from schedules.room.place import Place
from tests.ledger.builders import DAY, MORNING, served
from tests.ledger.places import STORES, end_shared_server, places

PATIENCE = 120.0
"""Seconds: what is tried here is who is first, not who waits longest."""


def mark_all(place: Place, keeper: str, servings: int, start: Barrier, results: Path) -> None:
    """Try every serving; write down who had it first as this program was told."""
    told: dict[str, str | None] = {}
    start.wait()
    with closing(open_at(place, patience=PATIENCE)) as ledger:
        for number in range(servings):
            tank = f"t{number}"
            try:
                ledger.append([served(tank)], day=DAY, at=MORNING, by=keeper)
                told[tank] = keeper
            except AlreadyMarked as refused:
                told[tank] = refused.winner.by
    results.write_text(json.dumps(told))


def race(programs: int, servings: int, place: Place, directory: Path) -> tuple[list[str], Counter[str | None]]:
    """Everything that went wrong, and how many servings each program was first with; results go into a directory."""
    context = multiprocessing.get_context("spawn")
    start = context.Barrier(programs)
    keepers = {f"keeper {number}": directory / f"{number}.json" for number in range(programs)}
    runners = [
        context.Process(target=mark_all, args=(place, keeper, servings, start, results))
        for keeper, results in keepers.items()
    ]
    for runner in runners:
        runner.start()
    for runner in runners:
        runner.join()
    with closing(open_at(place)) as ledger:
        entries = ledger.read(DAY, DAY)
    winners = {entry.what.tank: entry.by for entry in entries if hasattr(entry.what, "tank")}
    wrong = verify(place)
    if len(entries) != servings or len(winners) != servings:
        wrong.append(f"{len(entries)} entries for {len(winners)} of {servings} servings")
    for keeper, results in keepers.items():
        if not results.exists():
            wrong.append(f"{keeper} did not come to the end")
        elif json.loads(results.read_text()) != winners:
            wrong.append(f"{keeper} was told of other winners than the ledger names")
    return wrong, Counter(winners.values())


def main() -> int:
    """The command line: exit 0 if every serving was accepted once and every refusal named the winner."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0] if __doc__ else None)
    parser.add_argument("--programs", type=int, default=8)
    parser.add_argument("--servings", type=int, default=500)
    parser.add_argument("--store", choices=STORES, default="file")
    options = parser.parse_args()
    with TemporaryDirectory() as directory, places(options.store) as another:
        wrong, firsts = race(options.programs, options.servings, another(), Path(directory))
    end_shared_server()
    shares = ", ".join(str(count) for _, count in sorted(firsts.items(), key=str))
    sys.stdout.write(f"{sum(firsts.values())} servings accepted once each, by program: {shares}\n")
    sys.stdout.write("".join(f"{one}\n" for one in wrong))
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
