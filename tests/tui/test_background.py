"""What is worked out beside the round, so that no screen waits for it."""

from __future__ import annotations

from pathlib import Path

from tests.tui.hand import at_work
from tests.tui.rooms import make_desk


async def test_flags_are_all_worked_out_although_no_screen_asked(tmp_path: Path) -> None:
    async with at_work(make_desk(tmp_path)) as hand:
        assert not hand.app.desk.flags_to_find


async def test_after_a_mark_the_flags_of_that_tank_are_worked_out_again_by_themselves(tmp_path: Path) -> None:
    async with at_work(make_desk(tmp_path)) as hand:
        desk = hand.app.desk
        stop = desk.sheet.stops[0]
        desk.finish(stop)
        assert desk.flags_to_find == (stop.tank,)
        await hand.until(lambda: not desk.flags_to_find, "the flags of the marked tank")


def test_the_mixes_of_a_round_are_known_as_soon_as_it_is_opened(tmp_path: Path) -> None:
    desk = make_desk(tmp_path)
    assert desk.doses.batches
    assert any(desk.doses.of(serving.due) for stop in desk.sheet.stops for serving in stop.servings)
