"""The change between summer and winter time while the dashboard is open, and a round that lies across it or midnight.

Europe/Vienna, by Directive 2000/84/EC, articles 2 and 3: on the last Sundays of March and October at 01:00 UTC.
"""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from typing import Final

from schedules.amounts import look_back
from schedules.ledger import Served
from schedules.ledger.stores.sqlite import open_ledger
from schedules.room_file import load_room_text
from schedules.session.session import Session
from tests.tui.hand import at_work
from tests.tui.rooms import Clock, room_text

FORWARD: Final = datetime(2027, 3, 28, 1, tzinfo=UTC)
"""02:00 becomes 03:00."""
BACK: Final = datetime(2027, 10, 31, 1, tzinfo=UTC)
"""03:00 becomes 02:00."""
MINUTE: Final = timedelta(minutes=1)


def night_session(folder: Path, now: datetime) -> tuple[Session, Clock]:
    """A room whose second round begins at half past eleven at night."""
    text = room_text().replace("at = 19:00:00", "at = 23:30:00").replace('round = "evening"\n', "")
    text = text.replace('kind = "powder"', 'kind = "powder"\nround = "evening"\nper_week = 7\nmax_gap = 1')
    clock = Clock(now)
    return Session(load_room_text(text, "room.toml"), open_ledger(folder / "room.ledger.db"), clock, "Mara"), clock


async def test_a_round_across_the_longer_night_stays_on_its_day_and_the_turn_is_said(tmp_path: Path) -> None:
    session, clock = night_session(tmp_path, BACK - 15 * MINUTE)
    async with at_work(session) as hand:
        await hand.sees("Sat 30 Oct · evening round")
        await hand.press("space")
        await hand.sees("a1 done", "1 of 6 stops done")

        clock.now = BACK + 15 * MINUTE
        hand.app.look()
        await hand.sees("The clocks went back: it is now 02:15 here", "Sat 30 Oct · evening round")
        await hand.press("space")
        await hand.sees("2 of 6 stops done")

    entries = [entry for entry in session.ledger.everything() if isinstance(entry.what, Served)]
    assert {entry.day for entry in entries} == {date(2027, 10, 30)}
    assert [entry.at for entry in entries] == sorted(entry.at for entry in entries)
    assert entries[-1].at - entries[0].at == timedelta(minutes=30), "not minus half an hour, as the wall clock has it"


async def test_a_round_across_the_shorter_night_stays_on_its_day_and_the_turn_is_said(tmp_path: Path) -> None:
    session, clock = night_session(tmp_path, FORWARD - 15 * MINUTE)
    async with at_work(session) as hand:
        await hand.sees("Sat 27 Mar · evening round")
        await hand.press("space")
        await hand.sees("1 of 6 stops done")

        clock.now = FORWARD + 15 * MINUTE
        hand.app.look()
        await hand.sees("The clocks went forward: it is now 03:15 here", "Sat 27 Mar · evening round")
        await hand.press("space")
        await hand.sees("2 of 6 stops done")

    assert {entry.day for entry in session.ledger.everything() if isinstance(entry.what, Served)} == {date(2027, 3, 27)}


async def test_the_turn_is_said_once(tmp_path: Path) -> None:
    session, clock = night_session(tmp_path, BACK - 15 * MINUTE)
    async with at_work(session) as hand:
        clock.now = BACK + 15 * MINUTE
        hand.app.look()
        await hand.sees("The clocks went back")
        await hand.press("z")
        await hand.sees("comes again at the end of the round")
        hand.app.look()
        await hand.pilot.pause()
        assert "The clocks went" not in hand.text


async def test_midnight_inside_a_round_turns_no_day_and_the_end_of_the_night_does_with_a_word(tmp_path: Path) -> None:
    midnight = datetime(2027, 6, 14, 22, tzinfo=UTC)
    session, clock = night_session(tmp_path, midnight - MINUTE)
    async with at_work(session) as hand:
        clock.now = midnight + MINUTE
        hand.app.look()
        await hand.press("space")
        await hand.sees("Mon 14 Jun · evening round", "1 of 6 stops done")
        assert "A new day" not in hand.text

        clock.now = midnight + timedelta(hours=4)
        hand.app.look()
        await hand.sees("A new day has begun; r opens its round", "Mon 14 Jun · evening round")
        await hand.press("space")
        await hand.sees("a2 done")
        await hand.press("r")
        await hand.sees("the new day's round", "Tue 15 Jun")
    assert {entry.day for entry in session.ledger.everything() if isinstance(entry.what, Served)} == {date(2027, 6, 14)}


def test_a_look_back_comes_after_hours_that_passed_not_after_hours_of_the_wall_clock(tmp_path: Path) -> None:
    for turn, wall in ((BACK, "05:30"), (FORWARD, "06:30")):
        folder = tmp_path / wall.replace(":", "")
        folder.mkdir()
        session, clock = night_session(folder, turn - 30 * MINUTE)
        session.give("a1", "flake", anyway=True)
        (look,) = look_back(session.room, session.history, session.day, clock.now)
        given = session.room.feeds["flake"].rules.gone_after_hours

        assert look.at == turn - 30 * MINUTE + timedelta(hours=given) and given == 4
        assert look.at.astimezone(session.room.zone).strftime("%H:%M") == wall
