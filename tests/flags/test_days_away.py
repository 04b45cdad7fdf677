"""Days away: what the leave plan left out on purpose is no fault of the helper; what was due and not given is."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import replace

from schedules.history.leave import LeaveDay
from schedules.ledger import PostedServing
from schedules.review.flags import flags
from schedules.room import Presence, Room
from tests.amounts.rooms import TODAY, Past, at, days_ago, make_feed, make_room, make_tank

CHALK = make_feed("chalk", "mineral", known=True)
DUST = make_feed("dust", "powder", known=True)


def a_room() -> Room:
    young = (Presence("shrimplet", 60, hatched=days_ago(30)), Presence("adult", 20))
    return make_room([CHALK, DUST], make_tank("a", [CHALK, DUST], animals=young))


def kinds(past: Past, away: Collection[int], due: Collection[int] = ()) -> set[str]:
    """The kinds of flags today; a leave plan holds on the days `away` (days ago), with dust due on those in `due`."""
    dust = PostedServing("a", "dust", "morning", 0.5, 0.25, "spoon", 30.0, "premixed")
    leave = {days_ago(day): LeaveDay("Ida", (dust,) if day in due else (), 1) for day in away}
    history = replace(past.history(), leave=leave)
    return {flag.kind for flag in flags(a_room(), history, at(TODAY, 20))}


def fed(*days: int) -> Past:
    """Minerals twelve days ago, dust so many days ago."""
    past = Past()
    past.gave("a", CHALK, days_ago(12), 0.1)
    for day in sorted(days, reverse=True):
        past.gave("a", DUST, days_ago(day), 0.3)
    return past


def test_minerals_that_the_leave_plan_left_out_are_not_missed() -> None:
    """The longest gap of minerals is 8 days (planning rules, form 2)."""
    every_other = fed(12, 10, 8, 6, 4, 2, 0)

    assert "no_mineral" in kinds(every_other, away=())
    assert "no_mineral" not in kinds(every_other, away=range(1, 11))


def test_a_visit_that_was_due_and_did_not_happen_is_flagged_with_all_its_days() -> None:
    last = fed(12, 10, 8, 6)

    assert "no_fine_feed" in kinds(last, away=range(11), due=(10, 8, 6, 4, 2))
    assert "nothing_given" in kinds(last, away=range(11), due=(10, 8, 6, 4, 2))


def test_a_tank_that_the_leave_plan_gives_nothing_is_not_flagged_for_it() -> None:
    assert "nothing_given" in kinds(fed(8), away=())
    assert "nothing_given" not in kinds(fed(8), away=range(8))
