"""Some tanks planned together: as good as trying every plan where that can be done, and never to the room's harm."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from schedules import checker
from schedules.plan.cost import cost, round_minutes
from schedules.plan.grid import NEVER, UNIT
from schedules.plan.levels import GRAIN
from schedules.plan.planner import searched
from schedules.plan.polish import Tanks, polish
from schedules.plan.search import RoomSearch, effort_at_once
from schedules.plan.together import plan_together
from schedules.problem.types import Problem, Slot
from schedules.rules import WEIGHTS
from tests.bench.plan_rooms import invented_room

from .problems import document, every_lawful_plan, problems


def with_excess(problem: Problem, slots: tuple[Slot, ...], target: float) -> float:
    """The cost of a plan where the minutes of every round above the target count, not the longest round's."""
    found = cost(problem, slots)
    excess = sum(max(0.0, minutes - target) for minutes in round_minutes(problem, slots).values())
    return found.total - found.longest_round + WEIGHTS.longest_round * excess


def least_with_excess(problem: Problem, target: float) -> float:
    """The least of all lawful plans, by trying each."""
    return min(with_excess(problem, chosen, target) for chosen in every_lawful_plan(problem))


def begun(problem: Problem) -> RoomSearch:
    """A search that knows little more than a legal plan."""
    room = RoomSearch(problem, effort_at_once(len(problem.tanks)))
    room.seek(room.even_price(), 0, 4)
    return room


@given(problems(most_tanks=3, most_feeds=2, most_days=5), st.sampled_from([0.0, 0.5, 1.0, 3.0]))
@settings(max_examples=20, deadline=None)
def test_tanks_planned_together_are_as_good_as_the_best_of_all_plans(problem: Problem, target: float) -> None:
    assume(all(group.min_gap for tank in problem.tanks.values() for group in tank.groups.values()))
    assume(any(tank.feeds for tank in problem.tanks.values()))
    least = least_with_excess(problem, target)
    room = begun(problem)
    tanks = Tanks(room, room.even_price())
    beside = np.zeros_like(tanks.total)
    plans = plan_together(tanks.views, tanks.price, beside, target * GRAIN, NEVER / 2, 4096, 1)
    names = [name for block in room.blocks for name in block.grid.tanks]
    grids = dict(zip(names, tanks.grids, strict=True))
    slots = tuple(
        Slot(day, name, grids[name].feeds[0][f])
        for name, sets in zip(names, plans, strict=True)
        for day, number in enumerate(sets[:, 0])
        for f in np.flatnonzero(grids[name].sets[0, :, number])
    )
    assert checker.check(document(problem, tuple(sorted(slots)))) == []
    assert with_excess(problem, slots, target) == pytest.approx(least, abs=0.05)


@given(problems(most_tanks=3, most_feeds=3, most_days=9))
@settings(max_examples=10, deadline=None)
def test_a_polished_room_is_lawful_and_no_dearer_and_its_value_is_its_cost(problem: Problem) -> None:
    assume(any(tank.feeds for tank in problem.tanks.values()))
    room = begun(problem)
    before = room.value
    polish(room)
    slots = tuple(room.slots())
    assert room.value <= before
    assert checker.check(document(problem, slots)) == []
    assert room.value / UNIT == pytest.approx(cost(problem, slots).total, abs=0.1)


def test_planning_some_tanks_anew_helps_or_changes_nothing() -> None:
    room = begun(invented_room(4, 2, tight=False, days=14))
    tanks = Tanks(room, room.even_price())
    target = tanks.target(0.05)

    def rated() -> tuple[float, float]:
        excess = float(np.maximum(tanks.total - target, 0.0).sum())
        return sum(tanks.costs) + WEIGHTS.longest_round * UNIT / GRAIN * excess, float((tanks.total**2).sum())

    helped = 0
    for some in [(0, 1), (1, 2, 3), (0, 2), (0, 1, 3), (0, 1)]:
        before, least, sets = rated(), tanks.least, [one.copy() for one in tanks.sets]
        if tanks.plan_anew(some, target):
            helped += 1
            assert rated() < before
        else:
            assert all((new == old).all() for new, old in zip(tanks.sets, sets, strict=True))
        untouched = [tank for tank in range(4) if tank not in some]
        assert all((tanks.sets[tank] == sets[tank]).all() for tank in untouched)
        assert tanks.least <= least
    assert helped


def test_a_small_room_is_within_half_a_hundredth_of_what_cp_sat_found_in_two_minutes() -> None:
    # Planned one tank at a time it had cost 474.8.
    room = searched(invented_room(6, 8, tight=False))
    assert room.value / UNIT <= 465.25 * 1.005
