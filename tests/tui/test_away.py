"""A helper's sheet in the dashboard: ticked with one key a visit, written as the helper's, taken back as a whole."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path

import pytest

from schedules.leave import LeavePlan, leave_plan
from schedules.ledger import Away, Observed, Served, Skipped, Undone
from schedules.session.session import Session
from tests.tui.hand import at_work
from tests.tui.pictures import SIZES
from tests.tui.rooms import HELPER, NOW, TODAY, Clock, back_from_leave, make_session


def visits(plan: LeavePlan) -> set[tuple[str, str]]:
    return {(day.isoformat(), each.tank) for day in plan.visits for each in plan.due(day)}


@pytest.mark.parametrize("size", SIZES)
async def test_a_sheet_on_which_all_went_as_planned_takes_three_keys(tmp_path: Path, size: tuple[int, int]) -> None:
    session, plan = back_from_leave(tmp_path)
    servings = sum(map(len, plan.days))
    async with at_work(session, size) as hand:
        await hand.press("A")
        await hand.sees(f"{len(visits(plan))} not said", f"{HELPER}: 0 given", "a1")
        await hand.press("a")
        await hand.sees(f"{len(visits(plan))} given")
        await hand.press("enter")
        await hand.sees(f"written for {HELPER}: {len(plan.visits)} days", "u takes it back")

        assert [type(what) for what in hand.written] == [Served] * servings
        entries = [
            entry for entry in session.ledger.everything() if isinstance(entry.what, Served) and entry.by == HELPER
        ]
        assert {(entry.day.isoformat(), entry.what.tank) for entry in entries} == visits(plan)  # type: ignore[attr-defined]
        assert session.by == "Mara"

        await hand.press("u")
        await hand.sees("taken back", f"{len(visits(plan))} not said")
        assert sum(isinstance(what, Undone) for what in hand.written) == len(plan.visits)


async def test_space_goes_from_given_to_left_out_to_cloudy_and_back_to_not_said(tmp_path: Path) -> None:
    session, plan = back_from_leave(tmp_path)
    count = len(visits(plan))
    async with at_work(session) as hand:
        await hand.press("A")
        await hand.sees(f"{count} not said")
        for said in (
            "1 given, 0 left out",
            "0 given, 1 left out",
            "0 left out, 1 cloudy",
            f"0 cloudy, {count} not said",
        ):
            await hand.press("space")
            await hand.sees(said)


async def test_only_what_is_ticked_is_written(tmp_path: Path) -> None:
    session, plan = back_from_leave(tmp_path)
    count = len(visits(plan))
    async with at_work(session) as hand:
        await hand.press("A")
        await hand.sees(f"{count} not said")
        await hand.press("space", "down", "space", "space", "down", "space", "space", "space")
        await hand.sees("1 given, 1 left out, 1 cloudy")
        await hand.press("enter")
        await hand.sees(f"{count - 3} not said")

        kinds = {type(what) for what in hand.written}
        reasons = {what.because.code for what in hand.written if isinstance(what, Skipped)}
        assert kinds <= {Served, Skipped, Observed}
        assert reasons == {"left_out", "cloudy"}
        assert not any(isinstance(what, Away) for what in hand.written)


async def test_on_a_day_away_the_helper_can_say_so_and_marks_as_the_helper(tmp_path: Path) -> None:
    away = make_session(tmp_path)
    plan = leave_plan(away.room, away.history, TODAY, TODAY, TODAY + timedelta(days=4))
    away.accept_leave(HELPER, plan)
    session = Session(away.room, away.ledger, Clock(NOW + timedelta(days=2)), "Mara")
    async with at_work(session) as hand:
        await hand.press("y")
        await hand.sees("Who is here?", HELPER)
        await hand.press("3")
        await hand.sees(f"{HELPER} acts from now on")
        await hand.press("space")
        await hand.sees("done: ")

    assert {entry.by for entry in session.ledger.everything() if isinstance(entry.what, Served)} > {HELPER}
