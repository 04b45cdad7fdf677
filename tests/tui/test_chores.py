"""Chores at the stops of the round: the same keys as for feeds, and what they write."""

from __future__ import annotations

from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from functools import partial
from pathlib import Path

from schedules.ledger import ChoreMark, Reason, Served, Undone
from tests.tui.hand import Hand, at_work
from tests.tui.rooms import CHORES, make_session, room_text
from tui.screens.dialogs.leave_out import CHORE_REASONS


@asynccontextmanager
async def with_chores(folder: Path, size: tuple[int, int] = (80, 24)) -> AsyncIterator[Hand]:
    async with at_work(make_session(folder, room_text(also=CHORES)), size) as hand:
        yield hand


async def at_a1(hand: Hand) -> None:
    await hand.press("down")
    await hand.sees("a1 Moss corner", "3  1 min", "4  1 min")


async def test_a_chore_is_marked_by_its_number_after_those_of_the_feeds(tmp_path: Path) -> None:
    async with with_chores(tmp_path) as hand:
        await at_a1(hand)
        await hand.press("4")
        await hand.sees("Top off done, a1; 4 days late, so the next moves to Sat 28 Nov", "4  done")
        assert hand.written == [ChoreMark("top_off", "a1")]

        await hand.press("4")
        await hand.sees("Top off: done already")
        assert len(hand.written) == 1


async def test_space_marks_feeds_and_chores_in_one_act_and_undo_takes_all_of_it_back(tmp_path: Path) -> None:
    async with with_chores(tmp_path) as hand:
        await at_a1(hand)
        await hand.press("space")
        await hand.sees("a1 done: 2 given, 2 chores")
        assert [type(what) for what in hand.written] == [Served, Served, ChoreMark, ChoreMark]

        await hand.press("u")
        await hand.sees("Take back what?")
        await hand.press("u")
        await hand.sees("taken back: ", "4 due  a1")
        assert isinstance(hand.written[-1], Undone)


async def test_one_chore_is_left_out_with_a_reason_beside_feeds_that_stay_due(tmp_path: Path) -> None:
    async with with_chores(tmp_path) as hand:
        await at_a1(hand)
        await hand.press("s")
        await hand.sees("a1: why is it left out?")
        await hand.press("3")
        await hand.sees("a1: leave out what?", "Wipe the front glass")
        await hand.press("3")
        await hand.sees("a1: Wipe the front glass skipped, many just moulted", "3 due  a1")
        assert hand.written == [ChoreMark("wipe_front", "a1", because=Reason.other("many just moulted"))]


async def test_a_chore_of_the_room_is_a_stop_of_its_own_with_reasons_of_its_own(tmp_path: Path) -> None:
    async with with_chores(tmp_path) as hand:
        await hand.sees("Before the tanks", "Calibrate the meters", "do not use it")
        await hand.press("s")
        await hand.sees("why is it left out?", *CHORE_REASONS)
        await hand.press("1")
        await hand.sees("Calibrate the meters skipped, no time today", "a1 Moss corner")
        assert hand.written == [ChoreMark("calibrate_meters", because=Reason.other(CHORE_REASONS[0]))]


async def test_rack_and_quarantine_chores_stand_after_their_tanks_and_show_as_done(
    tmp_path: Path,
) -> None:
    async with with_chores(tmp_path) as hand:
        await hand.press("end", "1")
        await hand.sees("After the quarantine tanks", "Swap the quarantine tools done", "✓ done after")
        await hand.press("up", "up", "space")
        await hand.sees("rack wall done: 1 chore", "✓ done wall")
        assert hand.written == [ChoreMark("swap_tools"), ChoreMark("dust_racks", rack="wall")]


async def test_a_late_chore_among_what_was_missed_is_done_or_let_go_there(tmp_path: Path) -> None:
    async with with_chores(tmp_path) as hand:
        await hand.open("missed")
        await hand.press("end")
        await hand.sees("Top off, b2: 4 days late")
        await hand.press("g")
        await hand.sees("Top off done, b2")
        await hand.press("end")
        await hand.sees("Top off, a1: 4 days late")
        await hand.press("x")
        await hand.sees("Top off: why is it left out?")
        await hand.press("2")
        await hand.sees("Top off left out, a1: not needed")
        assert hand.written == [
            ChoreMark("top_off", "b2"),
            ChoreMark("top_off", "a1", because=Reason.other("not needed")),
        ]


async def test_the_number_of_the_chore_to_read_the_water_opens_the_screen_that_does_it(tmp_path: Path) -> None:
    reading = '[[chores]]\ntemplate = "read_water"\ntanks = ["a2"]\nfrom = 2026-11-25\nwithin = 1\n'
    async with at_work(make_session(tmp_path, room_text(also=reading))) as hand:
        await hand.press("down", "2")
        await hand.is_at("reading")
        hand.app.session.read_water("a2", {"tds": 180.0})
        await hand.press("escape")
        await hand.is_at("round")
        await hand.press("w", "escape")
        assert hand.app.session.sheet.stops[1].chores[0].state == "done"


async def test_the_summary_of_a_round_counts_its_chores_and_their_minutes(tmp_path: Path) -> None:
    async with with_chores(tmp_path, (100, 40)) as hand:
        for stop in hand.app.session.sheet.stops:
            await hand.press("space")
            await hand.until(partial(_is_settled, hand, stop.key), f"{stop.key} settled")
        await hand.sees("round is done", "13 chores done (31 min)")


def _is_settled(hand: Hand, key: str) -> bool:
    return not any(stop.open for stop in hand.app.session.sheet.stops if stop.key == key)
