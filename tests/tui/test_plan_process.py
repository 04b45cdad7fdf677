"""A room's first morning: today's round stands at once, the coming weeks are planned beside it."""

from __future__ import annotations

import asyncio
import os
import sys
import time
from datetime import datetime
from pathlib import Path

import pytest
from textual.widgets import Static

from schedules.ledger.stores.sqlite import open_ledger
from schedules.room_file import load_room
from schedules.session.session import Session
from tests.tui.rooms import NOW, Clock, room_text
from tui.app import RackroundApp
from tui.plan_process import PlanProcess, by_command
from tui.screens.plan import PlanScreen
from tui.widgets.grids.plan_grid import PlanGrid

PATIENCE = 60
"""Seconds after which what was waited for is taken not to come."""


def first_session(folder: Path) -> Session:
    """A session on a room that was never planned."""
    room_file = folder / "room.toml"
    room_file.write_text(room_text(), encoding="utf-8")
    return Session(load_room(room_file), open_ledger(folder / "room.ledger.db"), Clock(), "Mara", posts="today")


async def test_the_round_can_be_walked_before_the_coming_weeks_are_planned(tmp_path: Path) -> None:
    session = first_session(tmp_path)
    coming = by_command(tmp_path / "room.toml", tmp_path / "room.ledger.db")
    app = RackroundApp(session, coming=coming)
    async with app.run_test(size=(80, 24)) as pilot, asyncio.timeout(PATIENCE):
        assert session.sheet.stops
        today = session.history.due(session.day)
        await pilot.press("p")
        assert isinstance(app.screen, PlanScreen)
        first = app.screen
        await pilot.press("down", "right")
        at_hand = first.query_one(PlanGrid).cell
        while not session.knows_coming_days:
            await pilot.pause(0.05)
        while app.screen is first:
            await pilot.pause(0.05)
        assert isinstance(app.screen, PlanScreen)
        await pilot.pause()
        assert app.screen.query_one(PlanGrid).cell == at_hand
        assert session.history.due(session.day) == today
    session.ledger.close()


async def test_where_the_coming_weeks_cannot_be_planned_a_line_says_so(tmp_path: Path) -> None:
    session = first_session(tmp_path)

    def start(_now: datetime) -> PlanProcess:
        return PlanProcess([sys.executable, "-c", "import sys; sys.exit('no [room] for it')"])

    app = RackroundApp(session, coming=start)
    async with app.run_test(size=(120, 40)) as pilot, asyncio.timeout(PATIENCE):
        told = ""
        while "could not" not in told:
            await pilot.pause(0.05)
            told = str(app.page.query_one("#message", Static).render())
        assert "no [room] for it" in told
        assert not session.knows_coming_days
    session.ledger.close()


def test_a_package_of_the_same_name_in_the_current_folder_is_never_run(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    session = first_session(tmp_path)
    session.ledger.close()
    other = tmp_path / "other"
    (other / "tui").mkdir(parents=True)
    (other / "tui" / "__init__.py").write_text("", encoding="utf-8")
    ran = other / "ran"
    (other / "tui" / "__main__.py").write_text(f"open({str(ran)!r}, 'w').close()\n", encoding="utf-8")
    monkeypatch.chdir(other)
    monkeypatch.setenv("PYTHONPATH", os.pathsep.join(("", ".")))

    process = by_command(Path("..", "room.toml"), Path("..", "room.ledger.db"))(NOW)
    end = time.monotonic() + PATIENCE
    while (fault := process.fault()) is None:
        assert time.monotonic() < end
        time.sleep(0.05)

    assert fault == ""
    assert not ran.exists()
