"""Start, key to repaint and memory of the dashboard beside a bare Textual app: `python -m tests.bench.screens`.

Both programs run in a real terminal of 80 by 24 and take turns, get the same keys, and have the same widgets with as
many rows on every screen. Rooms of 48, 240 and 1,000 tanks, each after a month and after a year of rounds.
"""

from __future__ import annotations

import sys
import tempfile
from argparse import ArgumentParser
from collections.abc import Iterable, Sequence
from compileall import compile_dir
from pathlib import Path
from statistics import median, quantiles
from typing import Final

import demo_racks
import schedules
import tests
import tui
from tests.bench.screens_places import LONG, SHORT, Place, places
from tests.bench.screens_probe import Probe
from tests.bench.screens_script import LAST_KEY, Taken, press_all

PROGRAMS: Final = ("rackround", "bare")
Pair = tuple[Taken, Taken]


def words_for(program: str, place: Place, folder: Path) -> Sequence[str]:
    """How a program is started, its room copied again."""
    if program == "rackround":
        return place.copy(folder / "run")
    rows = (f"{name}={count}" for name, count in place.rows.items())
    return (sys.executable, "-m", "tests.bench.screens_bare", *rows)  # of this checkout, which is not installed


def run_once(program: str, place: Place, folder: Path, taken: Taken, keys: int) -> None:
    """One run: the start and, where the day is open already, so many keys on every screen."""
    with Probe(words_for(program, place, folder), folder / "home") as probe:
        taken.start.append(probe.started(LAST_KEY))
        if keys and not place.fresh:
            press_all(probe, place.rows, keys, taken)
        taken.memory.append(probe.peak_mb())


def measure(place: Place, folder: Path, runs: int, keys: int) -> Pair:
    """Let the programs take turns on one room; a first start of each, which reads files nobody has read, is left out.

    Every other run presses keys, so that the others are many starts in little time.
    """
    found = {program: Taken() for program in PROGRAMS}
    for program in PROGRAMS if not place.fresh else ():
        run_once(program, place, folder, Taken(), 0)
    for number in range(runs):
        for program in PROGRAMS if number % 2 else PROGRAMS[::-1]:
            run_once(program, place, folder, found[program], keys if number % 2 == 0 else 0)
    return found["rackround"], found["bare"]


def p95(values: Sequence[float]) -> float:
    """The 95th percentile."""
    return quantiles(values, n=20, method="inclusive")[-1] if len(values) > 1 else values[0]


def start_line(place: Place, pair: Pair) -> str:
    """What a start and the memory come to, and how many times those of the bare app they are."""
    ours, bare = pair
    start, same = median(ours.start), median(bare.start)
    held, least = median(ours.memory), median(bare.memory)
    cells = f"{start * 1000:.0f} ({start / same:.2f}) | {held:.0f} ({held / least:.2f})"
    return f"| {place.tanks}, {place.what} | {place.rows['round']} | {cells} |"


def key_lines(pairs: Sequence[Pair]) -> Iterable[str]:
    """For each key a line: median and 95th percentile in ms, each with how many times the bare app's."""
    for what in pairs[0][0].keys:
        yield f"| {what} | {' | '.join(_key_cell(ours.keys[what], bare.keys[what]) for ours, bare in pairs)} |"


def _key_cell(ours: Sequence[float], bare: Sequence[float]) -> str:
    if not ours or not bare:
        return "–"
    return ", ".join(f"{get(ours) * 1000:.0f} ({get(ours) / get(bare):.2f})" for get in (median, p95))


def length_line(tanks: int, short: Taken, long: Taken) -> str:
    """How many times a month's repaint takes with a year of ledger, over all keys: the median and the most."""
    ratios = {what: median(long.keys[what]) / median(short.keys[what]) for what in short.keys if short.keys[what]}
    worst = max(ratios, key=lambda what: ratios[what])
    return f"{tanks} tanks: {median(ratios.values()):.2f} times, at most {ratios[worst]:.2f} ({worst})"


def main(words: Sequence[str]) -> None:
    """Measure and print."""
    parser = ArgumentParser(description="Ratios to a bare Textual app.")
    parser.add_argument("--tanks", type=int, nargs="+", default=[48, 240, 1000], choices=[48, 240, 1000])
    parser.add_argument("--runs", type=int, default=6)
    parser.add_argument("--keys", type=int, default=18, help="moves on each screen and marks in a run")
    asked = parser.parse_args(words)
    # As an installed program is: Textual comes compiled, and a checkout is compiled only where Python may write.
    for package in (demo_racks, schedules, tests, tui):
        compile_dir(str(Path(package.__file__ or "").parent), quiet=1)
    say = sys.stdout.write
    say("ms and MB, in brackets: times the bare app's\n\n| tanks | stops | start | memory |\n|---|---|---|---|\n")
    keys: dict[tuple[int, str], Pair] = {}
    with tempfile.TemporaryDirectory(prefix="rackround-bench-") as name:
        for tanks in asked.tanks:
            for place in places(Path(name), tanks, asked.keys):
                pair = measure(place, Path(name), asked.runs, asked.keys)
                keys[tanks, place.what] = pair
                say(start_line(place, pair) + "\n")
                sys.stdout.flush()
    heads = " | ".join(f"{tanks} tanks" for tanks in asked.tanks)
    say(f"\nms with {LONG}: median, 95 %\n\n| key | {heads} |\n|---|{'---|' * len(asked.tanks)}\n")
    say("".join(f"{line}\n" for line in key_lines([keys[tanks, LONG] for tanks in asked.tanks])))
    say(f"\n{LONG.capitalize()} beside {SHORT}, the median of each key:\n\n")
    for tanks in asked.tanks:
        say(f"- {length_line(tanks, keys[tanks, SHORT][0], keys[tanks, LONG][0])}\n")


if __name__ == "__main__":
    main(sys.argv[1:])
