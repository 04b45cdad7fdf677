"""The fewest overdue days a tank can do with.

Only the hard rules and the longest gaps count here: the clocks alone are searched, which for most tanks is exact.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from schedules.plan.beam import search
from schedules.plan.block import TOGETHER, Block
from schedules.plan.grid import NEVER, UNIT, Grid, make_grid
from schedules.plan.split import Split
from schedules.problem.types import Problem, Slot
from schedules.rules import WEIGHTS

_WIDTHS = (48, 256, 1024)  # the first is enough for most tanks, and much faster than the last
_DAY = WEIGHTS.overdue * UNIT


@dataclass(frozen=True, slots=True)
class Fewest:
    """The fewest overdue days found for a tank, how few are proven to be needed, and a plan with the former."""

    found: int
    proven: int
    slots: tuple[Slot, ...]


def fewest_overdue(
    problem: Problem, tanks: Sequence[str], most: int = _WIDTHS[-1], late: Mapping[str, int] | None = None
) -> dict[str, Fewest]:
    """What the longest gaps of these tanks ask for, each tank by itself.

    `late` are the overdue days of known plans: where no plan has fewer, the one found may have more.
    """
    found: dict[str, Fewest] = {}
    known = {tank: problem.days * len(problem.tanks[tank].feeds) + 1 for tank in tanks} | dict(late or {})
    left = [tank for tank in tanks if problem.tanks[tank].feeds]
    for width in (*(width for width in _WIDTHS if width < most), most):
        for first in range(0, len(left), TOGETHER):
            for tank, one in _fewest(problem, left[first : first + TOGETHER], width, known).items():
                found[tank] = _better(found[tank], one) if tank in found else one
                known[tank] = min(known[tank], one.found)
        left = [tank for tank in left if found[tank].proven < known[tank]]
    return {tank: found.get(tank, Fewest(0, 0, ())) for tank in tanks}


def _better(one: Fewest, other: Fewest) -> Fewest:
    """What two searches of a tank say together: a wider one may by chance drop the plan that a narrower one kept."""
    least = min(other, one, key=lambda fewest: fewest.found)
    return replace(least, proven=max(one.proven, other.proven))


def _fewest(problem: Problem, tanks: Sequence[str], width: int, known: Mapping[str, int]) -> dict[str, Fewest]:
    rounds = sorted({feed.round for tank in tanks for feed in problem.tanks[tank].feeds.values()})
    full = make_grid(problem, tanks, rounds)
    clocks = _clocks_alone(full)
    price = np.zeros((problem.days, len(rounds)))
    # A plan with fewer days than are known saves a whole one; plans that cannot need not be followed.
    goal = np.array([(known[tank] - 1) * _DAY + 1 for tank in tanks])
    result = search(Split(clocks, price), width, goal)
    block = Block(full, len(rounds))
    block.take_in(np.arange(len(tanks)), result.sets[:, :, :1], result.costs[:, :1] >= NEVER / 2)
    slots = list(block.slots(np.zeros(len(tanks), dtype=np.int64)))
    return {
        tank: Fewest(
            int(result.costs[row, 0] // _DAY),
            int(-(-result.proven[row] // _DAY)),
            tuple(slot for slot in slots if slot.tank == tank),
        )
        for row, tank in enumerate(tanks)
    }


def _clocks_alone(grid: Grid) -> Grid:
    """The grid with nothing but overdue days to pay for; a week's servings are not counted."""
    return replace(
        grid,
        week_step=np.zeros((*grid.week_step.shape[:3], 1)),
        change=np.zeros_like(grid.change),
        fixed=np.zeros_like(grid.fixed),
        set_cost=np.where(grid.set_cost >= NEVER, NEVER, 0.0),
        repeats=np.zeros_like(grid.repeats),
    )
