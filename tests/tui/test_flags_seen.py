"""Flags that a keeper has seen: aside for every keeper and after a restart, taken back by the same key or by undo."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

import pytest

from schedules.ledger import Acknowledged, LedgerFault, Undone, What
from schedules.review.flags import Flag
from schedules.session.session import Session
from tests.tui.hand import Hand, at_work
from tests.tui.rooms import day, make_session, second_session, served
from tui.widgets.grids.room_grid import RoomGrid

SEEN = Acknowledged("a3", "dust", "doubled", "high", 2.0)


def doubled(session: Session) -> Flag:
    (found,) = (flag for flag in session.flags_of("a3") if flag.kind == "doubled")
    return found


def listed(hand: Hand) -> list[tuple[str, str]]:
    """Weight and tank of every line of the list."""
    rows = [line.split() for line in hand.text.splitlines()[3:14]]
    return [(words[0], words[4]) for words in rows if len(words) > 4]


def care_said(hand: Hand) -> str:
    """The line that names the tanks that need care."""
    return next((line for line in hand.text.splitlines() if "! care today" in line), "")


async def go_to_doubled(hand: Hand) -> None:
    await hand.open("flags")
    await hand.press("down", "down", "down")
    await hand.sees("a3 Fern and root", "Give no more of it for two days")


async def test_a_seen_flag_is_listed_last_and_written_down_about_its_own_day(tmp_path: Path) -> None:
    async with at_work(make_session(tmp_path)) as hand:
        await hand.open("flags")
        before = listed(hand)
        await go_to_doubled(hand)
        await hand.press("x")
        await hand.sees("a3: seen, listed last: given twice, Nettle dust", "u takes it back")

        assert before[3] == ("high", "a3")
        assert listed(hand) == [*before[:3], *before[4:], ("seen", "a3")]
        entry = list(hand.app.session.ledger.everything())[-1]
        assert (entry.what, entry.day, entry.by) == (SEEN, day(2), "Mara")


async def test_undo_lists_it_where_it_was(tmp_path: Path) -> None:
    async with at_work(make_session(tmp_path)) as hand:
        await go_to_doubled(hand)
        before = listed(hand)
        await hand.press("x")
        await hand.sees("listed last")
        await hand.press("u")
        await hand.sees("Take back what?")
        await hand.press("1")
        await hand.sees("taken back: flag of a3 seen: given twice, Nettle dust")

        assert listed(hand) == before
        assert [type(what) for what in hand.written] == [Acknowledged, Undone]


async def test_a_seen_flag_calls_for_no_care_before_the_round_and_in_the_room(tmp_path: Path) -> None:
    session = make_session(tmp_path)
    async with at_work(session) as hand:
        await hand.open("prepare")
        await hand.sees("! care today")
        assert "a3" in care_said(hand)
        for flag in session.flags_of("a3"):
            session.acknowledge(flag)
        await hand.press("escape")
        await hand.open("prepare")
        assert "a3" not in care_said(hand)
        await hand.open("room")
        room = hand.app.screen.query_one(RoomGrid)
        room.go_to("a3")
        await hand.sees("no flags but seen ones")


async def test_after_a_restart_it_is_still_aside_and_the_same_key_takes_it_back(tmp_path: Path) -> None:
    session = make_session(tmp_path)
    async with at_work(session) as hand:
        await go_to_doubled(hand)
        before = listed(hand)
        await hand.press("x")
        await hand.sees("listed last")
        await hand.press("q")
    session.ledger.close()

    async with at_work(second_session(session, tmp_path, "Ben")) as hand:
        await hand.open("flags")
        assert listed(hand)[-1] == ("seen", "a3")
        await hand.press("ctrl+end")
        await hand.sees("a3 Fern and root (seen by Mara; x takes that back)")
        await hand.press("x")
        await hand.sees("a3: among the others again: given twice, Nettle dust")
        assert listed(hand) == before
        assert [type(what) for what in hand.written] == [Undone]


async def test_what_another_keeper_has_seen_goes_aside_here_and_comes_back_when_that_is_undone(tmp_path: Path) -> None:
    session = make_session(tmp_path)
    ben = second_session(session, tmp_path)
    async with at_work(session) as hand:
        await hand.open("flags")
        before = listed(hand)
        ben.acknowledge(doubled(ben))
        await hand.sees("Ben: flag of a3 seen: given twice, Nettle dust, Mon 23 Nov")
        assert listed(hand) == [*before[:3], *before[4:], ("seen", "a3")]

        ben.undo()
        await hand.sees("Ben: an act taken back")
        assert listed(hand) == before


async def test_what_is_seen_here_is_seen_at_another_keepers_session(tmp_path: Path) -> None:
    session = make_session(tmp_path)
    ben = second_session(session, tmp_path)
    async with at_work(session) as hand:
        await go_to_doubled(hand)
        await hand.press("x")
        await hand.sees("listed last")

        assert ben.ledger.changed()
        assert "a3" in ben.catch_up()
        assert ben.seen_by(doubled(ben)) == ("Mara",)


async def test_the_key_takes_back_what_every_keeper_has_seen(tmp_path: Path) -> None:
    session = make_session(tmp_path)
    ben = second_session(session, tmp_path)
    flag = doubled(ben)
    session.acknowledge(flag)
    ben.acknowledge(flag)
    async with at_work(session) as hand:
        session.catch_up()
        await hand.open("flags")
        await hand.press("ctrl+end")
        await hand.sees("seen by Mara, Ben; x takes that back")
        await hand.press("x")
        await hand.sees("among the others again")
        assert [type(what) for what in hand.written] == [Undone, Undone]
        assert ("seen", "a3") not in listed(hand)


async def test_a_seen_flag_of_which_there_is_more_now_stands_among_the_others_again(tmp_path: Path) -> None:
    session = make_session(tmp_path)
    ben = second_session(session, tmp_path)
    async with at_work(session) as hand:
        await go_to_doubled(hand)
        await hand.press("x")
        await hand.sees("listed last")
        ben.ledger.append([served(session.room, "a3", "dust", "again")], day=day(2), at=session.clock(), by="Ben")
        await hand.sees("Ben: ")
        assert ("seen", "a3") not in listed(hand)
        await hand.press("ctrl+home", "down", "down", "down")
        await hand.sees("Nettle dust 3 times in the morning round")


async def test_what_is_seen_while_the_ledger_is_locked_counts_at_once_and_can_be_taken_back_or_is_saved(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    session = make_session(tmp_path)

    def locked(_what: Sequence[What], **_other: object) -> None:
        raise LedgerFault("The ledger is locked.")

    async with at_work(session) as hand:
        await go_to_doubled(hand)
        before = listed(hand)
        with monkeypatch.context() as broken:
            broken.setattr(session.ledger, "append", locked)
            await hand.press("x")
            await hand.sees("NOT SAVED YET")
            assert listed(hand)[-1] == ("seen", "a3")
            await hand.press("ctrl+end", "x")
            await hand.sees("among the others again")
            assert (listed(hand), len(session.unsaved)) == (before, 0)

            await hand.press("ctrl+home", "down", "down", "down", "x")
            await hand.sees("NOT SAVED YET")
            assert hand.written == []
        await hand.sees("saved now: 1 of 1")
        assert hand.written == [SEEN]
        assert listed(hand)[-1] == ("seen", "a3")


async def test_taking_back_while_the_ledger_is_locked_counts_at_once_and_is_saved(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    session = make_session(tmp_path)
    session.acknowledge(doubled(session))

    def locked(_what: Sequence[What], **_other: object) -> None:
        raise LedgerFault("The ledger is locked.")

    async with at_work(session) as hand:
        await hand.open("flags")
        await hand.press("ctrl+end")
        await hand.sees("seen by Mara")
        with monkeypatch.context() as broken:
            broken.setattr(session.ledger, "append", locked)
            await hand.press("x")
            await hand.sees("NOT SAVED YET")
            assert ("seen", "a3") not in listed(hand)
        await hand.sees("saved now: 1 of 1")
        assert ("seen", "a3") not in listed(hand)
        assert [type(what) for what in hand.written] == [Undone]
