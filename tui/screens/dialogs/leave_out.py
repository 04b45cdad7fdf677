"""Leaving out what is due: why, then which of several."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, Final

from textual.app import App

from tui.screens.dialogs.ask import Ask
from tui.screens.dialogs.choose import Choose

REASONS: Final = (
    "leftovers lying",
    "water cloudy",
    "many just moulted",
    "animals unwell or treated",
    "out of this feed",
)
CHORE_REASONS: Final = ("no time today", "not needed", "many just moulted", "animals unwell or treated", "tool missing")
"""Where nothing but chores is due."""


async def ask_reason(app: App[Any], title: str, reasons: Sequence[str]) -> str | None:
    """One of some reasons, or the keeper's own words; None where it was called off."""
    picked = await app.push_screen_wait(Choose(f"{title}: why is it left out?", (*reasons, "another reason")))
    if picked is None or picked < len(reasons):
        return None if picked is None else reasons[picked]
    return await app.push_screen_wait(Ask(f"{title}: why, in your own words?"))


async def ask_which(app: App[Any], title: str, options: Sequence[str]) -> Sequence[int]:
    """The numbers, from 0, of one of several or of all of them; where there is only one, there is nothing to ask."""
    if len(options) == 1:
        return (0,)
    listed = (*options, "both" if len(options) == 2 else f"all {len(options)}")
    hint = "enter leaves out all; a digit one; esc none"
    picked = await app.push_screen_wait(Choose(f"{title}: leave out what?", listed, hint, start=len(options)))
    if picked is None:
        return ()
    return range(len(options)) if picked == len(options) else (picked,)
