"""The last pass over a small room, where every serving shows in the longest round.

Prices for minutes cannot tell apart plans that only a cap would: one tank after the other is searched beside the rounds
of the others, with a cap on every round, the cap stepping down from the longest round there is.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from schedules.plan.beam import search
from schedules.plan.block import Block
from schedules.plan.grid import NEVER, UNIT, Floats, Grid
from schedules.plan.levels import GRAIN
from schedules.plan.search import RoomSearch
from schedules.plan.split import Split
from schedules.rules import WEIGHTS

_SWEEPS = 4
_CAPS = 12
_STEPS = 20
_WIDTH = 64
_KEPT = 16
_MINUTE = WEIGHTS.longest_round * UNIT / GRAIN


def polish(room: RoomSearch) -> None:
    """Search each tank under caps, choosing anew after each, until a whole sweep finds nothing better."""
    for _ in range(_SWEEPS):
        before = room.value
        for number, block in enumerate(room.blocks):
            for row in range(len(block.grid.tanks)):
                _step_down(room, number, row)
                if room.close():
                    return
        if room.value >= before:
            return


def _step_down(room: RoomSearch, number: int, row: int) -> None:
    block = room.blocks[number]
    chosen = room.chosen[number][row]
    others = room.minutes() - block.pool.minutes[row, chosen]
    sets = block.set_minutes[row]
    rounds = others.reshape(block.grid.days, -1)
    cap = float((others + block.pool.minutes[row, chosen]).max())
    best = block.pool.costs[row, chosen] + _MINUTE * cap
    least = _MINUTE * float(rounds.max())  # the others' rounds cost this much whatever the tank is given
    for _ in range(_CAPS):
        if not _under_cap(block, row, rounds, sets, cap, best - least):
            return
        room.choose(room.even_price())
        lower = (rounds[:, None, :] + sets[None, :, :]).ravel()
        lower = lower[lower < cap]
        if not len(lower) or lower.max() < rounds.max():
            return
        cap = float(lower.max())


def _under_cap(block: Block, row: int, rounds: Floats, sets: Floats, cap: float, goal: float) -> bool:
    """Take in plans of a tank that make no round longer than the cap; whether any costs less than `goal`, or may.

    Costs are without minutes. The lower the cap the dearer the plans, so where none may the search has come to its end.
    """
    rows = np.array([row])
    grid = _capped(block.grid.pick(rows), rounds, sets, cap)
    split = Split(grid, np.zeros((grid.days, rounds.shape[1])), block.price[rows])
    fitting = (block.pool.minutes[row].reshape(-1, *rounds.shape) + rounds <= cap).all(axis=(1, 2))
    known = np.where(fitting, block.pool.costs[row], NEVER).min()
    split.tighten(np.array([min(known, goal)]), _STEPS)
    if split.bound()[0] >= goal:
        return False
    found = search(split, _WIDTH)
    block.take_in(rows, found.sets[:, :, :_KEPT], found.costs[:, :_KEPT] >= NEVER / 2)
    return bool(found.costs[0, 0] < goal)


def _capped(grid: Grid, rounds: Floats, sets: Floats, cap: float) -> Grid:
    """The grid of one tank without the sets that would make a round longer than the cap."""
    used = grid.sets.shape[2]
    own = sets[None, :used, :]
    over = np.any((rounds[:, None, :] + own > cap) & (own > 0), axis=2, keepdims=True)
    return replace(grid, set_cost=np.where(over.reshape(1, grid.days, used), NEVER, grid.set_cost))
