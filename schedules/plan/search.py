"""The whole room: prices for the minutes of each round, plans of every tank at those prices, and their levelling."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from schedules.plan.block import Block
from schedules.plan.cost import overdue_by_tank
from schedules.plan.day_sets import day_sets
from schedules.plan.fewest import fewest_overdue
from schedules.plan.grid import NEVER, UNIT, Floats, Ints, make_grid
from schedules.plan.levels import Pool, level, minute_prices
from schedules.problem.types import Problem, Slot
from schedules.rules import CHURN_DAYS, WEIGHTS

_BLOCK = 64  # tanks in one block
_BLOCK_SETS = 4096  # tanks × sets in one block
_TOWARDS = 0.4  # how far prices of minutes go, while few plans are known, to those at which these would level
_PROGRESS = 0.01  # a smaller part of what is left between plan and bound is no progress
_PATIENCE = 2  # turns without progress before the last searches
_CLOSE = 1e-5  # a plan this near its bound, as a part of its cost, is good enough


@dataclass(frozen=True, slots=True)
class Effort:
    """How long to search, counted in steps so that the plan does not depend on the machine.

    `first_width` plans are kept from day to day in the first search, `width` in the next ones, one for each of
    `steps`; before each the prices of servings move that often. `last_widths` are tried on the tanks that are left.
    """

    first_width: int
    steps: tuple[int, ...]
    width: int
    last_widths: tuple[int, ...]
    last_steps: int
    price_steps: int
    kept: int
    pool: int
    spare_width: int = 1024
    """Plans kept from day to day when it is found out first how few days of a tank must be overdue; 0: it is not."""


SMALL = 12  # tanks


def effort_at_once(tanks: int) -> Effort:
    """A search that takes a second at most for 48 tanks and two for 240."""
    if tanks <= SMALL:
        return Effort(24, (60, 30, 30), 32, (64,), 30, 1000, 48, 256, spare_width=0)
    return Effort(16, (30, 10), 24, (), 0, 100, 8, 32, spare_width=0)


def effort_for(tanks: int) -> Effort:
    """Small rooms are searched longer: there every serving shows in the longest round."""
    if tanks <= SMALL:
        return Effort(24, (120, 30, 30, 30, 30, 30), 64, (256, 1024), 60, 1000, 48, 256)
    if tanks <= 60:
        return Effort(16, (60, 15, 15), 24, (64, 256, 512), 40, 1000, 24, 128)
    return Effort(16, (60, 10), 20, (48, 256), 15, 150, 12, 48)


class RoomSearch:
    """The search for one problem: its blocks of tanks, the plan chosen for each tank, what that costs."""

    def __init__(self, problem: Problem, effort: Effort) -> None:
        self.problem, self.effort = problem, effort
        self.rounds = sorted({feed.round for tank in problem.tanks.values() for feed in tank.feeds.values()})
        self.blocks = [Block(make_grid(problem, tanks, self.rounds), len(self.rounds)) for tanks in _blocks(problem)]
        self.chosen: list[Ints] = []
        self.value = NEVER * UNIT
        self.bound = 0.0
        self.bound_prices = self.even_price()
        self.bounds: dict[str, float] = {}
        """The bound of each tank at those prices."""

    def run(self) -> None:
        """Search from nothing."""
        if not self.blocks:
            return
        effort, price = self.effort, self.even_price()
        self.seek(price, 0, effort.first_width)
        if effort.spare_width:
            self.spare_days()
        stale = 0
        for steps in effort.steps:
            before = self.value / UNIT - self.bound
            self.seek(price, steps, effort.width)
            if self.close():
                return
            stale = stale + 1 if self.value / UNIT - self.bound > (1 - _PROGRESS) * before else 0
            if stale >= _PATIENCE:
                break
            price = price + _TOWARDS * (self.levelling(price) - price)
        price = self.levelling(price)
        for width in effort.last_widths:
            self.seek(price, effort.last_steps, width)
            if self.close():
                return
            price = self.levelling(price)

    def levelling(self, price: Floats) -> Floats:
        """The prices of minutes at which the plans known would level the rounds, from others on."""
        return minute_prices(self._pools(), price, self.value, self.effort.price_steps)

    def even_price(self) -> Floats:
        """The same price for the minutes of every round, adding up to the weight."""
        shape = (self.problem.days, max(1, len(self.rounds)))
        return np.full(shape, WEIGHTS.longest_round / (shape[0] * shape[1]))

    def close(self) -> bool:
        """Whether no plan can be noticeably better than the one chosen."""
        return self.value / UNIT - self.bound <= _CLOSE * max(self.bound, 100.0)

    def seek(self, price: Floats, steps: int, width: int) -> None:
        """Look for better plans of every tank at prices for minutes, and choose anew."""
        for block in self.blocks:
            block.seek(price, steps, width, self.effort.kept)
        bound = float(sum(block.proven.sum() for block in self.blocks)) / UNIT
        if bound > self.bound:
            self.bound, self.bound_prices = bound, price
            self.bounds = {
                tank: float(least) / UNIT
                for block in self.blocks
                for tank, least in zip(block.grid.tanks, block.proven, strict=True)
            }
        self.choose(price)

    def choose(self, price: Floats) -> None:
        """Choose a plan for each tank, from those cheapest at these prices and from the ones chosen before."""
        if not self.blocks:
            return
        pools = self._pools()
        starts = [[pool.priced(price).argmin(axis=1) for pool in pools]]
        if self.chosen:
            starts.append(self.chosen)
        self.value, chosen = min((level(pools, start) for start in starts), key=lambda found: found[0])
        self.chosen = [pool.trim(price, choice, self.effort.pool) for pool, choice in zip(pools, chosen, strict=True)]

    def spare_days(self) -> None:
        """Find the fewest overdue days of the tanks that have any, and let their blocks know."""
        late = {tank: sum(days.values()) for tank, days in overdue_by_tank(self.problem, self.slots()).items()}
        fewest = fewest_overdue(self.problem, list(late), self.effort.spare_width, late)
        better = [slot for tank, one in fewest.items() if one.found < late[tank] for slot in one.slots]
        for block in self.blocks:
            block.know_overdue({tank: one.proven for tank, one in fewest.items()})
        if better:
            self.take_in(better)
            self.choose(self.even_price())

    def take_in(self, slots: Sequence[Slot]) -> None:
        """Let the blocks know a plan, which must keep the hard rules."""
        for block in self.blocks:
            block.take_in_slots(slots)

    def plans(self) -> dict[str, Ints]:
        """All plans known of each tank that has feeds (sets, D K)."""
        return {tank: sets for block in self.blocks for tank, sets in block.plans().items()}

    def take_in_plans(self, plans: Mapping[str, Ints]) -> None:
        """Let the blocks know plans of some tanks (sets, D K), which must keep the hard rules."""
        for block in self.blocks:
            block.take_in_plans(plans)

    def slots(self) -> list[Slot]:
        """The servings of the plans chosen, in the order (day, tank, feed)."""
        return sorted(
            slot for block, chosen in zip(self.blocks, self.chosen, strict=True) for slot in block.slots(chosen)
        )

    def proven(self) -> float | None:
        """The lower bound on the cost of any plan; None where the rules were read more strictly than they are."""
        if not all(_read_exactly(self.problem, tank) for tank in self.problem.tanks):
            return None
        return self.bound + WEIGHTS.churn * _gone_for_good(self.problem)

    def minutes(self) -> Floats:
        """The minutes of each round (day by day) in grains."""
        found: Floats = np.zeros(self.problem.days * len(self.rounds))
        for pool, chosen in zip(self._pools(), self.chosen, strict=True):
            found = found + pool.minutes[np.arange(len(chosen)), chosen].sum(axis=0, dtype=np.float64)
        return found

    def _pools(self) -> list[Pool]:
        return [block.pool for block in self.blocks]


def _read_exactly(problem: Problem, name: str) -> bool:
    """Whether the search left out no plan of a tank that the rules allow.

    It does for a group without a gap (two feeds of it on one day), for a group given later than its last day says,
    and where more sets of feeds fit a day than it looks at.
    """
    tank = problem.tanks[name]
    for group_id, group in tank.groups.items():
        lasts = [day for feed in tank.feeds.values() if feed.group == group_id and (day := feed.last) is not None]
        if group.min_gap < 1 or (lasts and (group.last is None or max(lasts) > group.last.day)):
            return False
    return day_sets(tank).complete


def _gone_for_good(problem: Problem) -> int:
    """Posted servings of the first days that no plan can keep, as the tank or its feed is not there any more."""
    return sum(
        slot.tank not in problem.tanks or slot.feed not in problem.tanks[slot.tank].feeds
        for slot in set(problem.posted)
        if slot.day < min(CHURN_DAYS, problem.days)
    )


def _blocks(problem: Problem) -> list[list[str]]:
    """The tanks that have feeds, in blocks of like ones, so that little is padded."""
    size = {name: (len(day_sets(tank).sets), len(tank.feeds)) for name, tank in problem.tanks.items() if tank.feeds}
    blocks: list[list[str]] = []
    for name in sorted(size, key=lambda name: (size[name], name)):
        if not blocks or len(blocks[-1]) >= _BLOCK or (len(blocks[-1]) + 1) * size[name][0] > _BLOCK_SETS:
            blocks.append([])
        blocks[-1].append(name)
    return blocks
