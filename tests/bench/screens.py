"""Start-up, key to repaint and memory of the dashboard beside a bare Textual app: `python -m tests.bench.screens`.

Each program runs in a real terminal of 80 by 24, the ones compared take turns, and the numbers are medians. Two bare
apps are compared with: a table with as many rows and columns and a footer, and the same widgets as the round's screen.
"""

from __future__ import annotations

import sys
import tempfile
from argparse import ArgumentParser
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from itertools import cycle, islice
from pathlib import Path
from statistics import median, quantiles
from typing import Final

from tests.bench.screens_places import Place, places
from tests.bench.screens_probe import Probe

PROGRAMS: Final = ("rackround", "table", "widgets")
LAST_KEY: Final = "1 keys"
"""The end of the footer of all three: what stands on a complete screen."""
SCREENS: Final = {"missed": "m", "flags": "f", "plan": "p"}


@dataclass
class Taken:
    """What runs of one program took: seconds, and MB."""

    start: list[float] = field(default_factory=list)
    move: list[float] = field(default_factory=list)
    mark: list[float] = field(default_factory=list)
    memory: list[float] = field(default_factory=list)
    screens: dict[str, list[float]] = field(default_factory=dict)


def words_for(program: str, place: Place, folder: Path) -> Sequence[str]:
    """How a program is started, its room copied anew."""
    if program == "rackround":
        return place.copy(folder / "run")
    return (sys.executable, "-m", "tests.bench.screens_bare", program, str(place.stops))


def run_once(program: str, place: Place, folder: Path, taken: Taken, keys: int) -> None:
    """One run: the start, then moves between rows, then marks, then (with no table to compare) the other screens."""
    with Probe(words_for(program, place, folder), folder / "home") as probe:
        taken.start.append(probe.started(LAST_KEY))
        if not place.fresh:
            to_and_fro = cycle(["down"] * (place.stops - 1) + ["up"] * (place.stops - 1))
            taken.move += [probe.repainted(key) for key in islice(to_and_fro, keys)]
            taken.mark += [probe.repainted("space") for _ in range(min(keys, place.stops - 2))]
        taken.memory.append(probe.peak_mb())
        if program == "rackround" and not place.fresh and keys:
            for screen, key in SCREENS.items():
                opened = probe.repainted(key)
                moved = probe.repaints(("down", "down", "up", "down", "up", "up"))
                taken.screens.setdefault(f"open {screen}", []).append(opened)
                taken.screens.setdefault(f"move in {screen}", []).extend(moved)


def measure(place: Place, folder: Path, runs: int, keys: int) -> dict[str, Taken]:
    """Let the programs take turns on one room."""
    found = {program: Taken() for program in PROGRAMS}
    for number in range(runs):
        for program in PROGRAMS[number % 3 :] + PROGRAMS[: number % 3]:
            run_once(program, place, folder, found[program], keys if number % 2 == 0 else 0)
    return found


def p95(values: Sequence[float]) -> float:
    """The 95th percentile."""
    return quantiles(values, n=20, method="inclusive")[-1] if len(values) > 1 else values[0]


def line(place: Place, found: dict[str, Taken]) -> str:
    """A row of the table: the dashboard's own numbers, and how many times those of the bare apps."""
    ours, table, widgets = (found[program] for program in PROGRAMS)

    def against(get: Callable[[Sequence[float]], float], which: str, scale: float) -> str:
        taken: list[list[float]] = [getattr(each, which) for each in (ours, table, widgets)]
        if not all(taken):
            return "–"
        here, bare, same = (get(values) for values in taken)
        return f"{here * scale:.0f} ({here / bare:.2f}, {here / same:.2f})"

    cells = [
        f"{place.tanks} {place.what}".strip(),
        str(place.stops),
        against(median, "start", 1000),
        against(median, "move", 1000),
        against(p95, "move", 1000),
        against(median, "mark", 1000),
        against(p95, "mark", 1000),
        against(median, "memory", 1),
    ]
    return f"| {' | '.join(cells)} |"


def screens_line(place: Place, taken: Taken) -> str:
    """The other screens, in ms."""
    cells = [
        f"{name} {median(values) * 1000:.0f} (95 %: {p95(values) * 1000:.0f})"
        for name, values in taken.screens.items()
        if values
    ]
    return f"{place.tanks} {place.what}".strip() + ": " + ", ".join(cells)


def main(words: Sequence[str]) -> None:
    """Measure and print, row by row."""
    parser = ArgumentParser(description="Ratios to a bare Textual app.")
    parser.add_argument("--tanks", type=int, nargs="+", default=[6, 48, 240], choices=[6, 48, 240])
    parser.add_argument("--runs", type=int, default=6)
    parser.add_argument("--keys", type=int, default=20)
    asked = parser.parse_args(words)
    say = sys.stdout.write
    say("ms and MB, in brackets: times the bare table, times the bare widgets\n\n")
    say("| tanks | stops | start | move | move 95 % | mark | mark 95 % | memory |\n|---|---|---|---|---|---|---|---|\n")
    others = []
    with tempfile.TemporaryDirectory(prefix="rackround-bench-") as name:
        for tanks in asked.tanks:
            for place in places(Path(name), tanks):
                found = measure(place, Path(name), asked.runs, asked.keys)
                say(line(place, found) + "\n")
                sys.stdout.flush()
                if not place.fresh:
                    others.append(screens_line(place, found["rackround"]))
    say("\nOther screens, ms:\n\n" + "".join(f"- {each}\n" for each in others))


if __name__ == "__main__":
    main(sys.argv[1:])
