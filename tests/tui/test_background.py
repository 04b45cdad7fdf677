"""What is worked out beside the round, so that no screen waits for it."""

from __future__ import annotations

from pathlib import Path

from tests.tui.hand import at_work
from tests.tui.rooms import make_session


async def test_flags_are_all_worked_out_although_no_screen_asked(tmp_path: Path) -> None:
    async with at_work(make_session(tmp_path)) as hand:
        assert not hand.app.session.flags_to_find


async def test_after_a_mark_the_flags_of_that_tank_are_worked_out_again_by_themselves(tmp_path: Path) -> None:
    async with at_work(make_session(tmp_path)) as hand:
        session = hand.app.session
        stop = session.sheet.stops[0]
        session.finish(stop)
        assert session.flags_to_find == (stop.tank,)
        await hand.until(lambda: not session.flags_to_find, "the flags of the marked tank")


def test_the_mixes_of_a_round_are_known_as_soon_as_it_is_opened(tmp_path: Path) -> None:
    session = make_session(tmp_path)
    assert session.doses.bottles
    assert any(session.doses.of(serving.due) for stop in session.sheet.stops for serving in stop.servings)
