"""Whatever the room and its past: no plan breaks a hard rule, and no round asks for more than the rules allow.

The checker reads the plan's JSON alone and shares no code with the planner.
"""

from __future__ import annotations

import json
from datetime import date, timedelta
from typing import get_args

from hypothesis import given, settings
from hypothesis import strategies as st

from schedules import checker
from schedules.amounts import given_part
from schedules.ledger import Served
from schedules.plan.posting import plan_days, posted_servings
from schedules.problem.json import plan_to_json
from schedules.room import Room
from schedules.room.kinds import Table
from schedules.round import finish_stop, refusal, round_sheet
from schedules.rules import SHARE_TOLERANCE
from tests.amounts.rooms import TODAY, Past
from tests.strategies import pasts, rooms, shares

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
    places = [(tank, table) for tank in room.tanks for table in get_args(Table)]
    before = {(tank, table): given_part(room, past.history(), tank, table, TODAY) for tank, table in places}

    for stop in round_sheet(room, past.history(), TODAY, TODAY, "morning").stops:
        for act in finish_stop(stop):
            if isinstance(act, Served):
                assert refusal(room, past.history(), act.tank, act.feed, TODAY, act.part) is None
            past.write(act, TODAY)

    history = past.history()
    for tank, table in places:
        given = given_part(room, history, tank, table, TODAY)
        assert given <= max(1.0, before[tank, table]) + SHARE_TOLERANCE
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
            assert room.feeds[due.feed].stages & room.tanks[due.tank].stages(day)
