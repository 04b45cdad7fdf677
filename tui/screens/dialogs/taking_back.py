"""Which of the last acts to take back: one of them, or all of today's at one rack."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, Final

from textual.app import App

from schedules.formatting import clock_text
from schedules.session.recent import RecentAct
from schedules.session.session import Session
from schedules.wording.entries import marked_text
from tui.acts import key_text
from tui.screens.dialogs.choose import Choose

SHOWN: Final = 8
PARTS: Final = 2
"""Entries of one act that its line names."""


async def ask_what(app: App[Any], session: Session, acts: Sequence[RecentAct], keys: str) -> Sequence[RecentAct]:
    """Those of some acts, newest first, that the keeper picks; none where nothing is picked.

    `keys` are those of undo, separated by commas: once more, they take back the newest.
    """
    shown = acts[:SHOWN]
    options = [act_line(session, act) for act in shown]
    rack = _rack_of(session, shown[0])
    beside = () if rack is None else session.recent(rack)
    if len(beside) > 1:
        options.append(f"all {len(beside)} of today at {_rack_name(session, rack)}")
    hint = f"{key_text(keys)} again or enter takes back the newest; a digit another; esc for none"
    picked = await app.push_screen_wait(Choose("Take back what? The newest comes first", options, hint, again=keys))
    if picked is None:
        return ()
    return beside if picked == len(shown) else (shown[picked],)


def act_line(session: Session, act: RecentAct) -> str:
    """One act in a line: when, and what was written."""
    said = [marked_text(session.room, entry) for entry in act.entries]
    more = f" and {len(said) - PARTS} more" if len(said) > PARTS else ""
    return f"{clock_text(act.entries[0].at, session.room.zone)} {'; '.join(said[:PARTS])}{more}"


def _rack_of(session: Session, act: RecentAct) -> str | None:
    return next((rack.id for rack in session.room.racks if act.tanks & set(rack.tanks)), None)


def _rack_name(session: Session, rack: str | None) -> str:
    return next((each.name or each.id for each in session.room.racks if each.id == rack), "")
