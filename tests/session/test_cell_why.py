"""Why a feed is served in a cell of the plan: told tank by tank, and the same as told from the whole room."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from schedules.ledger import Posting
from schedules.planning.explain import text, why, why_not
from schedules.planning.problem.build import build_problem
from schedules.planning.problem.types import Slot
from schedules.planning.problem.weights import CHURN_DAYS
from schedules.room import Presence
from schedules.session.plan_reasons import PlanReasons
from schedules.session.session import Session
from schedules.wording.plan_reasons import reason_texts
from tests.tui.rooms import TODAY, make_session

DAYS = range(14)


def told(session: Session, posting: Posting) -> dict[tuple[str, int, str], tuple[str, ...]]:
    """What the plan's screen tells of each cell."""
    reasons = PlanReasons(session, posting)
    return {
        (tank.id, number, reason.feed): reason_texts(session.room, reason)
        for tank in session.room.tanks.values()
        for number in DAYS
        for reason in reasons.of(tank, number)
    }


def by_the_whole_room(session: Session, posting: Posting) -> dict[tuple[str, int, str], tuple[str, ...]]:
    """The same by the planning problem of all tanks together."""
    problem = build_problem(session.room, session.history, posting.start, len(posting.days))
    names = {feed.id: feed.name for feed in session.room.feeds.values()}
    found = {}
    for tank, planned in problem.tanks.items():
        slots = [
            Slot(day, tank, due.feed) for day, served in enumerate(posting.days) for due in served if due.tank == tank
        ]
        for number in DAYS:
            for feed in planned.feeds:
                slot = Slot(number, tank, feed)
                given = slot in slots
                reasons = why(problem, slots, slot) if given else why_not(problem, slots, slot)
                found[tank, number, feed] = tuple(text(reason, names) for reason in reasons)
    return found


@pytest.mark.parametrize("left_out", ["", "a2"])
def test_a_tank_alone_tells_the_same_as_the_whole_room_also_where_nothing_of_it_was_posted_yet(
    tmp_path: Path, left_out: str
) -> None:
    session = make_session(tmp_path)
    posting = session.history.posting(session.day)
    assert posting is not None and posting.start == TODAY
    days = tuple(
        tuple(due for due in served if due.tank != left_out or number >= CHURN_DAYS)
        for number, served in enumerate(posting.days)
    )
    posting = replace(posting, days=days)
    session.history = replace(session.history, postings=(*session.history.postings[:-1], posting))

    mine, whole = told(session, posting), by_the_whole_room(session, posting)

    closed = ("the tank's rest day", "nobody here eats it", "all keepers are off")
    compared = [cell for cell, texts in mine.items() if cell in whole and not any(t.startswith(closed) for t in texts)]
    assert len(compared) > 200
    assert {cell: mine[cell] for cell in compared} == {cell: whole[cell] for cell in compared}
    session.ledger.close()


@pytest.mark.parametrize("whole", [False, True])
def test_a_feed_that_was_posted_and_that_nobody_eats_any_more_hides_no_reason(tmp_path: Path, whole: bool) -> None:
    session = make_session(tmp_path)
    posting = session.history.posting(session.day)
    assert posting is not None
    tank = replace(session.room.tanks["a1"], animals=(Presence("adult", 40),))
    session.room = replace(session.room, tanks={**session.room.tanks, "a1": tank})
    today = {due.feed for due in posting.days[0] if due.tank == "a1"}
    assert today == {"bug", "dust"}, "the powder is for shrimplets, which have gone"

    found = {reason.feed: reason for reason in PlanReasons(session, posting).of(tank, 0, whole=whole)}

    assert found["dust"].reasons == ()
    assert found["bug"].reasons and found["flake"].reasons
    session.ledger.close()


def test_what_closes_a_day_is_said_by_the_room_and_only_where_nothing_is_due(tmp_path: Path) -> None:
    session = make_session(tmp_path)
    posting = session.history.posting(session.day)
    assert posting is not None
    everybody_off = tuple(replace(keeper, off_dates=frozenset((TODAY,))) for keeper in session.room.keepers)
    tank = replace(session.room.tanks["a1"], animals=(Presence("shrimplet", 40),), rest_weekday=TODAY.weekday())
    feeds = {name: replace(rules, even_on_days_off=name == "leaf") for name, rules in tank.feeds.items()}
    tank = replace(tank, feeds=feeds)
    session.room = replace(session.room, keepers=everybody_off, tanks={**session.room.tanks, "a1": tank})

    found = {reason.feed: reason for reason in PlanReasons(session, posting).of(tank, 0)}

    assert {name for name, reason in found.items() if reason.due is not None} == {"bug", "dust"}
    assert (found["bug"].closed, found["dust"].closed) == ((), ())
    assert found["flake"].closed == ("nobody", "rest_day", "day_off")
    assert found["leaf"].closed == ("nobody", "rest_day"), "leaves are given even when all keepers are off"
    assert {name: reason.feed for name, reason in found.items()} == {name: name for name in found}
    tomorrow = {reason.feed: reason.closed for reason in PlanReasons(session, posting).of(tank, 1)}
    assert (tomorrow["flake"], tomorrow["dust"]) == (("nobody",), ())
    beyond = PlanReasons(session, posting).of(tank, len(posting.days))
    assert {reason.due for reason in beyond} == {None} and {reason.reasons for reason in beyond} == {()}
    session.ledger.close()
