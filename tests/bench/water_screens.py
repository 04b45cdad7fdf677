"""Key to repaint on the water's screens and plots: `python -m tests.bench.water_screens`.

The demo in a real terminal of 80 × 24. Each line is a median in ms and, in brackets, how many times a move in the round
of the same run. The first plot loads plotext; the screen shows its heading at once and the plot when it is drawn.
"""

from __future__ import annotations

import sys
import tempfile
from itertools import cycle, islice
from pathlib import Path
from statistics import median
from typing import Final

from tests.bench.screens_probe import Probe
from tests.pty.demo import NOW
from tests.pty.terminal import installed

TIMES: Final = 20
OPENED: Final = 4
DIGITS: Final = ("2", "3", ",", "5", "enter", "1", "8", "7", "enter")
LATER: Final = "planned"
"""Said once the coming weeks are planned beside the round: from then on nothing else works."""


def run(folder: Path) -> dict[str, list[float]]:
    """Seconds by what was done."""
    taken: dict[str, list[float]] = {}

    def take(what: str, seconds: list[float]) -> None:
        taken.setdefault(what, []).extend(seconds)

    words = [installed(), "demo", "--keep", str(folder / "kept"), "--now", NOW]
    with Probe(words, folder) as probe:
        probe.started("1 keys")
        probe.shows(LATER)
        take("round: move", probe.repaints(list(islice(cycle(("down", "up")), TIMES))))
        for _ in range(OPENED):
            take("water: open", [probe.opened("H")])
            take("water: move", probe.repaints(list(islice(cycle(("down", "up")), TIMES // OPENED))))
            take("a tank's water: open", [probe.opened("enter")])
            take("plot: first" if "plot: first" not in taken else "plot: show", [probe.opened("g")])
            take("plot: another quantity", probe.repaints(["o"] * (TIMES // OPENED)))
            probe.opened("escape")
            probe.opened("escape")
        take("survival: open", [probe.opened("S")])
        take("survival plot: show", [probe.opened("g")])
        take("survival plot: by another", probe.repaints(["o"] * TIMES))
        probe.opened("escape")
        take("reading: open", [probe.opened("R")])
        take("reading: a key", probe.repaints(list(islice(cycle(DIGITS), 2 * len(DIGITS)))))
        probe.kill()
    return taken


def main() -> None:
    """Print what one run took."""
    with tempfile.TemporaryDirectory() as folder:
        taken = run(Path(folder))
    move = median(taken["round: move"])
    for what, seconds in taken.items():
        found = median(seconds)
        sys.stdout.write(f"{what}: {1000 * found:.0f} ms ({found / move:.1f}), {len(seconds)} times\n")


if __name__ == "__main__":
    main()
