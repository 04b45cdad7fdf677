"""What happens around the acts: others at work, rules that stand against it, closing in between, the day going on."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Sequence
from datetime import timedelta
from pathlib import Path

import pytest

from schedules.ledger import LedgerFault, Noted, Served, What
from tests.tui.hand import at_work
from tests.tui.rooms import Clock, make_session, room_text, second_session, served
from tui.acts import Place
from tui.screens.round import RoundScreen


async def test_closing_in_the_middle_loses_nothing_and_comes_back_to_the_next_open_stop(tmp_path: Path) -> None:
    session = make_session(tmp_path)
    async with at_work(session) as hand:
        await hand.press("space", "space")
        await hand.sees("a2 done: 1 given")
        await hand.press("q")
    session.ledger.close()

    async with at_work(second_session(session, tmp_path, "Mara")) as hand:
        assert "a3 Fern and root" in hand.text
        assert "3 of 6 stops done" in hand.text


async def test_a_mark_of_another_program_appears_with_its_keeper_and_keeps_the_place(tmp_path: Path) -> None:
    room_file = tmp_path / "room.toml"
    room_file.write_text(room_text(), encoding="utf-8")
    async with at_work(make_session(tmp_path)) as hand:
        await hand.press("down", "down")
        await hand.sees("a3 Fern and root", "1 of 6 stops done")
        words = ["give", str(room_file), "b2", "dust", "--by", "Ben", "--now", "2026-11-25T07:12"]
        subprocess.run([sys.executable, "-P", "-m", "tui", *words], check=True, capture_output=True)

        await hand.sees("2 of 6 stops done", "Ben: ")
        assert "a3 Fern and root" in hand.text

        await hand.press("down", "down")
        await hand.sees("b2 Pale ones", "given", "07:12 Ben")


async def test_a_stop_that_another_keeper_adds_before_the_current_one_leaves_the_cursor_where_it_is(
    tmp_path: Path,
) -> None:
    session = make_session(tmp_path)
    other = second_session(session, tmp_path)
    async with at_work(session) as hand:
        await hand.press("o")
        await hand.sees("the evening round", "a3 Fern and root", "0 of 1 stops done")
        assert other.give("a1", "leaf").done
        hand.app.look()
        await hand.sees("1 of 2 stops done", "a3 Fern and root")
        assert isinstance(hand.app.page, RoundScreen) and hand.app.page.current_tank == "a3"


async def test_two_keepers_cannot_both_mark_a_serving_and_the_later_one_is_told_who_did(tmp_path: Path) -> None:
    session = make_session(tmp_path)
    other = second_session(session, tmp_path)
    async with at_work(session) as hand:
        other.finish(other.sheet.stops[0])
        await hand.press("space")
        await hand.sees("already", "Ben")

        given = [what for what in hand.written if isinstance(what, Served)]
        assert [(what.tank, what.feed) for what in given] == [("a1", "bug"), ("a1", "dust")]


async def test_another_keeper_takes_over_inside_the_dashboard(tmp_path: Path) -> None:
    async with at_work(make_session(tmp_path)) as hand:
        await hand.press("y")
        await hand.sees("Who is here?", "2  Ben")
        await hand.press("2")
        await hand.sees("Ben acts from now on", "Cellar by the stairs · Ben")
        await hand.press("space")
        await hand.sees("2 of 6 stops done")
        assert list(hand.app.session.ledger.everything())[-1].by == "Ben"


async def test_a_message_that_is_cut_can_be_read_whole(tmp_path: Path) -> None:
    async with at_work(make_session(tmp_path), size=(60, 20)) as hand:
        hand.app.say("The disk is full: " + "a long story " * 8 + "and its end")
        await hand.sees("e: all")
        assert "and its end" not in hand.text
        await hand.press("e")
        await hand.sees("The line at the bottom", "and its end")


async def test_a_clock_that_is_behind_the_ledger_is_said_from_the_start(tmp_path: Path) -> None:
    session = make_session(tmp_path)
    assert isinstance(session.clock, Clock)
    session.clock.now -= timedelta(days=7)
    async with at_work(session) as hand:
        await hand.sees("CHECK THE CLOCK", "The clock says")


async def test_any_tank_is_found_as_its_name_is_typed(tmp_path: Path) -> None:
    async with at_work(make_session(tmp_path)) as hand:
        await hand.press("t")
        await hand.sees("Which tank?", "q1      Newcomers")
        await hand.press(*"AND")
        await hand.until(lambda: "Newcomers" not in hand.text, "the list narrowed down")
        await hand.press("enter")
        await hand.sees("a3 Fern and root")
        await hand.press("t")
        await hand.sees("Which tank?")
        await hand.press("o")
        await hand.sees("Amber, line two")
        await hand.press("down")
        await hand.press("enter")
        await hand.sees("a2 Long slate")
        await hand.press("t")
        await hand.sees("Which tank?")
        await hand.press(*"zzz")
        await hand.sees('nothing here has "zzz" in it')
        await hand.press("enter")
        await hand.press("escape")
        await hand.is_at("round")


async def test_a_tank_without_a_stop_in_this_round_is_found_too_and_shows_its_life(tmp_path: Path) -> None:
    async with at_work(make_session(tmp_path)) as hand:
        await hand.press("o")
        await hand.sees("evening round")
        await hand.press("t")
        await hand.sees("nothing due in this round")
        await hand.press(*"newc")
        await hand.until(lambda: "Long slate" not in hand.text, "the list narrowed down")
        await hand.press("enter")
        await hand.is_at("tank")
        await hand.sees("q1 Newcomers")


async def test_home_and_end_go_to_the_first_and_the_last_stop_after_a_resize_too(tmp_path: Path) -> None:
    async with at_work(make_session(tmp_path), size=(120, 40)) as hand:
        await hand.press("end")
        await hand.sees("q1 Newcomers")
        await hand.pilot.resize_terminal(80, 24)
        await hand.press("home")
        await hand.sees("a1 Moss corner")
        await hand.press("end")
        await hand.sees("q1 Newcomers", "2 due  a1")


async def test_after_midnight_the_round_stays_until_the_new_day_is_opened(tmp_path: Path) -> None:
    session = make_session(tmp_path)
    assert isinstance(session.clock, Clock)
    async with at_work(session) as hand:
        session.clock.now += timedelta(days=1)
        await hand.sees("A new day has begun: r opens its round")
        await hand.press("space")
        await hand.sees("a1 done")
        assert {what.tank for what in hand.written if isinstance(what, Served)} == {"a1"}
        assert session.day.day == 25

        await hand.press("r")
        await hand.sees("the new day's round", "Thu 26 Nov")


async def test_a_mark_that_cannot_be_saved_is_told_kept_and_saved_as_soon_as_it_can_be(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    session = make_session(tmp_path)

    def full(_what: Sequence[What], **_other: object) -> None:
        raise LedgerFault("The disk is full.")

    async with at_work(session) as hand:
        with monkeypatch.context() as broken:
            broken.setattr(session.ledger, "append", full)
            await hand.press("space")
            await hand.sees("1 NOT SAVED YET", "The disk is full")
            assert hand.written == []
            await hand.press("q")
            await hand.sees("1 marks are not saved yet")
            await hand.press("1")
        await hand.sees("saved now: 1 of 1")
        assert [(what.tank, what.feed) for what in hand.written if isinstance(what, Served)] == [
            ("a1", "bug"),
            ("a1", "dust"),
        ]


async def test_a_changed_room_file_is_offered_with_what_it_changes_and_taken_in(tmp_path: Path) -> None:
    room_file = tmp_path / "room.toml"
    room_file.write_text(room_text(), encoding="utf-8")
    async with at_work(make_session(tmp_path), room_file=room_file) as hand:
        room_file.write_text(room_text({"a1": "Moss and fern"}), encoding="utf-8")
        os.utime(room_file, ns=(1, 1))
        await hand.sees("The room file was changed")
        await hand.press("w")
        await hand.sees("take it in")
        await hand.press("1")
        await hand.sees("is taken in", "a1 Moss and fern")


async def test_a_room_file_that_changes_while_a_note_is_typed_waits_as_a_line_and_takes_no_key(tmp_path: Path) -> None:
    room_file = tmp_path / "room.toml"
    room_file.write_text(room_text(), encoding="utf-8")
    async with at_work(make_session(tmp_path), size=(120, 40), room_file=room_file) as hand:
        await hand.press("n", "s", "h")
        room_file.write_text(room_text({"a1": "Moss and fern"}), encoding="utf-8")
        os.utime(room_file, ns=(1, 1))
        hand.app.look()
        await hand.sees("new room file: w", "a1: note")
        await hand.press("w", "1", "enter")
        await hand.sees("a1: noted", "new room file: w")
        assert [what.text for what in hand.written if isinstance(what, Noted)] == ["shw1"]


async def test_a_faulty_room_file_is_told_with_its_lines_and_changes_nothing(tmp_path: Path) -> None:
    room_file = tmp_path / "room.toml"
    room_file.write_text(room_text(), encoding="utf-8")
    async with at_work(make_session(tmp_path), room_file=room_file) as hand:
        room_file.write_text(room_text().replace("volume = 40", "volume = 0", 1), encoding="utf-8")
        await hand.press("w")
        await hand.sees("The room file has faults", "volume", "The room stays as it was")
        await hand.press("enter")
        await hand.sees("a1 Moss corner")


async def test_the_keepers_own_keys_work_and_are_shown(tmp_path: Path) -> None:
    async with at_work(make_session(tmp_path), keys={"finish": "f5"}) as hand:
        assert "F5 done" in hand.text
        await hand.press("space")
        await hand.press("f5")
        await hand.sees("a1 done")
        assert len(hand.written) == 2


@pytest.mark.parametrize("place", ["prepare", "lookback", "flags", "room"])
async def test_what_another_program_writes_shows_on_the_other_screens_too(place: Place, tmp_path: Path) -> None:
    session = make_session(tmp_path)
    async with at_work(session) as hand:
        await hand.open(place)
        before = hand.text
        other = second_session(session, tmp_path)
        for stop in other.sheet.stops[:3]:
            other.finish(stop)
        other.ledger.append(
            [served(session.room, "a2", "dust", "again")], day=session.day, at=session.clock(), by="Ben"
        )

        await hand.sees("4 of 6 stops done", "Ben: ")
        changed = hand.text.splitlines()[2:-3] != before.splitlines()[2:-3]
        assert changed == (place != "prepare"), "what is to be prepared for the round stays as it was"
