"""Whatever the room and its past: no plan breaks a hard rule, and no round asks for more than the rules allow.

The checker reads the plan's JSON alone and shares no code with the planner.
"""

from __future__ import annotations

import json
from datetime import date, timedelta
from itertools import product
from typing import Final

from hypothesis import given, settings
from hypothesis import strategies as st

from schedules.amounts.ration import given_part
from schedules.ledger import Served
from schedules.planning import checker
from schedules.planning.posting import plan_days, posted_servings
from schedules.planning.problem.json import plan_to_json
from schedules.planning.problem.weights import TOLERANCE
from schedules.room import Presence, Room
from schedules.room.clocks import FILM_BEFORE_HATCH_DAYS
from schedules.room.kinds import Table
from schedules.round import finish_stop, refusal, round_sheet
from tests.amounts.rooms import TODAY, Past
from tests.strategies import pasts, rooms, shares

TABLES: Final[tuple[Table, ...]] = ("fine", "ground", "fan")

room_and_past = rooms().flatmap(lambda room: st.tuples(st.just(room), pasts(room)))


@given(room_and_past, st.integers(1, 45), st.integers(0, 6))
@settings(max_examples=40, deadline=None)
def test_no_plan_breaks_a_hard_rule(made: tuple[Room, Past], days: int, ahead: int) -> None:
    room, past = made
    start = TODAY + timedelta(days=ahead)

    problem, plan = plan_days(room, past.history(), start, days)
    document = json.loads(json.dumps(plan_to_json(problem, plan)))

    assert checker.check(document) == []


@given(room_and_past, st.data())
@settings(max_examples=25, deadline=None)
def test_a_round_walked_to_its_end_keeps_every_rule_whatever_was_given_beside_it(
    made: tuple[Room, Past], data: st.DataObject
) -> None:
    """Extra feedings come between posting and walking; what then breaks a rule is held back, never given."""
    room, past = made
    problem, plan = plan_days(room, past.history(), TODAY, 7)
    past.posted(TODAY, *posted_servings(room, past.history(), problem, plan))
    for _ in range(data.draw(st.integers(0, 3))):
        tank = data.draw(st.sampled_from(sorted(room.tanks)))
        feed = data.draw(st.sampled_from(sorted(room.feeds)))
        past.gave(tank, room.feeds[feed], TODAY, data.draw(shares), planned=False, broke="ration")
    tables = tuple(product(room.tanks, TABLES))
    before = {each: given_part(room, past.history(), *each, TODAY) for each in tables}

    for stop in round_sheet(room, past.history(), TODAY, TODAY, "morning").stops:
        for act in finish_stop(stop):
            if isinstance(act, Served):
                assert refusal(room, past.history(), act.tank, act.feed, TODAY, act.part) is None
            past.write(act, TODAY)

    history = past.history()
    for each in tables:
        assert given_part(room, history, *each, TODAY) <= max(1.0, before[each]) + TOLERANCE
    assert round_sheet(room, history, TODAY, TODAY, "morning").next_open() is None


@given(room_and_past)
@settings(max_examples=15, deadline=None)
def test_no_serving_is_posted_twice_or_on_a_day_on_which_its_stage_is_gone(made: tuple[Room, Past]) -> None:
    room, past = made
    problem, plan = plan_days(room, past.history(), TODAY, 28)

    for number, servings in enumerate(posted_servings(room, past.history(), problem, plan)):
        day: date = TODAY + timedelta(days=number)
        assert len({(due.tank, due.feed) for due in servings}) == len(servings)
        for due in servings:
            tank, stages = room.tanks[due.tank], room.feeds[due.feed].stages
            soon = {here.stage for here in tank.animals if here.count and hatches_soon(here, day)}
            assert stages & (tank.stages(day) | soon)


def hatches_soon(animals: Presence, day: date) -> bool:
    """Whether shrimplets are expected within five days, so that their film is begun."""
    hatch = animals.hatch_day
    return animals.stage == "shrimplet" and hatch is not None and 1 <= (hatch - day).days <= FILM_BEFORE_HATCH_DAYS
