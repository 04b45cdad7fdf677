"""Kill writers at random instants and look for every entry they were told was kept.

    python -m tests.ledger.crash --kills 1000 --store server

Each child marks, skips, notes, posts, sees flags and undoes, one act after the other, on the ledger the last one left
behind, or makes a new one, or brings an old one up to date. It tells the parent of each act through a pipe once
`append` has returned. The parent kills it at a random instant, then checks that every act it was told of is there in
full, that no act is there in part, and that `verify` finds nothing.
"""

from __future__ import annotations

import argparse
import os
import random
import shutil
import signal
import sys
import time
from collections.abc import Callable, Iterator
from contextlib import closing
from datetime import timedelta
from itertools import groupby
from pathlib import Path

from schedules.ledger import AlreadyMarked, Ledger, Noted, Posting, Reason, Skipped, Undone, What
from schedules.ledger.copies.verify import verify
from schedules.ledger.lines import line_of
from schedules.ledger.stores.opening import open_at
from schedules.ledger.stores.sqlite.schema import VERSION
from schedules.room.place import Place, Server
from tests.ledger.builders import DAY, MORNING, due, seen, served
from tests.ledger.earlier_versions import make_old
from tests.ledger.places import STORES, end_shared_server, places
from tests.ledger.server import forget_ledger, wait_for_others

MOST_ACTS = 12
"""A child lives until it told of a random number of acts up to this, or, for a third of them, of none at all."""
LONGEST_WAIT = 0.004
"""Seconds from then on to the kill at most: about as long as an act takes."""
OPENING = 0.02
"""Seconds at most that a child lives which is to die while it opens, makes or brings up to date a ledger."""
PATIENCE = 60.0
ACT_SIZE = 3
"""Every act of marks has this many entries, so that half a one shows."""


def acts(ledger: Ledger, chance: random.Random) -> Iterator[tuple[What, ...]]:
    """Acts of every kind for ever."""
    number = ledger.last_seq()
    while True:
        number += 1
        kind = chance.randrange(7)
        last = ledger.last_act()
        if kind == 0 and last:
            yield (Undone(last[0].act),)
        elif kind == 1:
            posted = tuple(due(f"t{tank}") for tank in range(40))
            yield (Posting(DAY + timedelta(days=number), (posted,) * 28),)
        elif kind == 2:
            yield tuple(Noted(None, "clear water " * 200) for _ in range(ACT_SIZE))
        elif kind == 3:
            yield tuple(seen(f"t{chance.randrange(2000)}", extent=chance.random()) for _ in range(ACT_SIZE))
        else:
            tanks = [chance.randrange(2000) for _ in range(ACT_SIZE - 1)]
            yield (
                *(served(f"t{tank}") for tank in tanks),
                Skipped(f"t{number}", "leaf", "morning", Reason.other("still full")),
            )


def write_until_killed(place: Place, tell: int, chance: random.Random) -> None:
    """What a child does; each act it tells of is a line with the lines of its entries."""
    ledger = open_at(place)
    os.write(tell, b"opened\n")
    for what in acts(ledger, chance):
        try:
            made = ledger.append(what, day=DAY, at=MORNING, by="Ana")
        except AlreadyMarked:
            continue
        told = "".join(f"{entry.seq} {line_of(entry)}\n" for entry in made)
        os.write(tell, f"{told}kept\n".encode())


def run_and_kill(body: Callable[[int], None], acts_first: int, wait: float) -> list[str]:
    """Run `body` in a child until it told of some acts, wait a little longer, kill it; the whole lines that it told."""
    reading, telling = os.pipe()
    child = os.fork()
    if child == 0:
        os.close(reading)
        try:
            body(telling)
        finally:
            os._exit(1)
    os.close(telling)
    told = bytearray()
    end = time.monotonic() + PATIENCE
    while told.count(b"kept\n") < acts_first and time.monotonic() < end and _take(reading, told):
        pass
    time.sleep(wait)
    os.kill(child, signal.SIGKILL)
    os.waitpid(child, 0)
    while _take(reading, told):
        pass
    os.close(reading)
    return told.decode(errors="ignore").split("\n")[:-1]


def _take(reading: int, told: bytearray) -> bool:
    part = os.read(reading, 1 << 16)
    told.extend(part)
    return bool(part)


def acknowledged(lines: list[str]) -> dict[int, str]:
    """Entries by number, of the acts that were told of to the end."""
    kept: dict[int, str] = {}
    act: dict[int, str] = {}
    for line in lines:
        if line == "kept":
            kept |= act
            act = {}
        elif line != "opened":
            seq, _, entry = line.partition(" ")
            act[int(seq)] = entry
    return kept


def missing(place: Place, expected: dict[int, str]) -> list[str]:
    """What is wrong with a ledger after a kill; `expected` becomes all that it holds."""
    if isinstance(place, Path) and not place.exists():
        return ["the ledger is gone"] if expected else []
    with closing(open_at(place)) as ledger:
        entries = list(ledger.everything())
        found = {entry.seq: line for entry, line in zip(entries, ledger.lines(), strict=True)}
    wrong = [f"entry {seq} is lost" for seq, line in expected.items() if found.get(seq) != line]
    for act, made in groupby(entries, key=lambda entry: entry.act):
        size = len(list(made))
        if size not in (1, ACT_SIZE):
            wrong.append(f"act {act} has {size} entries of {ACT_SIZE}")
    expected.clear()
    expected.update(found)
    return wrong + verify(place)


class Harness:
    """A ledger whose writers are killed again and again."""

    def __init__(self, place: Place, seed: int) -> None:
        self.chance = random.Random(seed)
        self.place = place
        self.templates: list[Path] = []
        if isinstance(place, Path):
            self.templates = [place.with_name(f"version-{version}.ledger.db") for version in range(1, VERSION)]
        self.of_templates = [make_old(path, version) for version, path in enumerate(self.templates, 1)]
        self.expected: dict[int, str] = {}
        self.told = 0
        self.unopened = 0

    def kill_once(self) -> list[str]:
        """One child's life and death; what is wrong afterwards."""
        beginning = self.chance.randrange(12)
        if beginning < 3:
            self._begin_again(old=beginning < 2)
        acts_first = 0 if beginning < 4 else self.chance.randrange(1, MOST_ACTS)
        wait = self.chance.uniform(0, LONGEST_WAIT if acts_first else OPENING)
        seed = self.chance.random()
        lines = run_and_kill(lambda tell: write_until_killed(self.place, tell, random.Random(seed)), acts_first, wait)
        self.unopened += "opened" not in lines
        kept = acknowledged(lines)
        self.told += len(kept)
        self.expected |= kept
        if isinstance(self.place, Server):
            wait_for_others(self.place)
        return missing(self.place, self.expected)

    def _begin_again(self, old: bool) -> None:
        self.expected = {}
        if isinstance(self.place, Server):
            forget_ledger(self.place)
            return
        for left in self.place.parent.glob(f"*{self.place.name}*"):
            left.unlink()
        if old:
            which = self.chance.randrange(len(self.templates))
            shutil.copy(self.templates[which], self.place)
            self.expected = dict(self.of_templates[which])


def kill_many(kills: int, seed: int, store: str = "file") -> tuple[list[str], Harness]:
    """Kill that many children; everything that was wrong, and the harness with its counts."""
    wrong: list[str] = []
    with places(store) as another:
        harness = Harness(another(), seed)
        for number in range(kills):
            wrong.extend(f"kill {number}: {one}" for one in harness.kill_once())
    return wrong, harness


def main() -> int:
    """The command line: exit 0 if nothing was lost."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0] if __doc__ else None)
    parser.add_argument("--kills", type=int, default=25)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--store", choices=STORES, default="file")
    options = parser.parse_args()
    wrong, harness = kill_many(options.kills, options.seed, options.store)
    end_shared_server()
    sys.stdout.write(
        f"{options.kills} kills, {harness.unopened} of them before the ledger was open; {harness.told} entries "
        f"acknowledged, {len(wrong)} findings\n" + "".join(f"{one}\n" for one in wrong)
    )
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
