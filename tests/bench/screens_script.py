"""The keys that both programs get in a run: through the round, then to each of the other screens and back."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import cycle, islice
from typing import Final

from tests.bench.screens_bare import KEYS
from tests.bench.screens_probe import Probe
from tui.screens.dashboard import HELD_SECONDS

LAST_KEY: Final = "1 keys"
"""The end of the footer of both programs' first screen: what stands on a complete one."""
OPENED: Final = 3
"""How often each of the other screens is opened in a run."""
GRID: Final = ("right", "down", "left", "up")
TEXT: Final = ("right", "left")
SCREENS: Final[Mapping[str, Sequence[str]]] = {
    "prepare": TEXT,
    "lookback": (),
    "missed": (),
    "flags": (),
    "plan": GRID,
    "tank": TEXT,
    "room": GRID,
}
"""The keys that move on each screen, over and over; on those with none named, down the list and up again."""


@dataclass
class Taken:
    """What runs of one program took: the start in seconds, MB held, and the seconds of each key by what it does."""

    start: list[float] = field(default_factory=list)
    memory: list[float] = field(default_factory=list)
    keys: dict[str, list[float]] = field(default_factory=dict)

    def add(self, what: str, seconds: Sequence[float]) -> None:
        """Note what some keys took."""
        self.keys.setdefault(what, []).extend(seconds)


def press_all(probe: Probe, rows: Mapping[str, int], keys: int, taken: Taken) -> None:
    """So many moves and marks in the round, then so many moves on each other screen."""
    taken.add("round: move", probe.repaints(list(islice(_to_and_fro(rows["round"]), keys))))
    taken.add("round: mark", probe.repaints(["space"] * marks_of(rows["round"], keys), HELD_SECONDS))
    for name, moves in SCREENS.items():
        for _ in range(OPENED):
            taken.add(f"{name}: open", [probe.opened(KEYS[name])])
            moved = cycle(moves) if moves else _to_and_fro(rows[name])
            taken.add(f"{name}: move", probe.repaints(list(islice(moved, keys // OPENED))))
            taken.add("any: back", [probe.opened("escape")])


def marks_of(stops: int, keys: int) -> int:
    """How many stops a run marks: never the last ones, after which there is nowhere to go on to."""
    return max(0, min(keys, stops - 2))


def _to_and_fro(rows: int) -> Iterator[str]:
    return cycle(["down"] * (rows - 1) + ["up"] * (rows - 1)) if rows > 1 else iter(())
