"""Choosing the quantities that are read: each by its digit, Enter keeps them."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, Final

from textual.app import App

from schedules.room.water.quantities import QUANTITIES, Quantity
from tui.screens.dialogs.choose import Choose

YES, NO = "●", "·"
HINT: Final = "a digit adds one or takes it away; enter keeps these; esc changes nothing"


async def ask_quantities(app: App[Any], chosen: Sequence[Quantity]) -> tuple[Quantity, ...]:
    """The quantities to read in their usual order, at least one; empty where the keeper changes nothing."""
    names, now = tuple(QUANTITIES), set(chosen)
    while True:
        options = [f"{YES if name in now else NO} {QUANTITIES[name].name}" for name in names]
        keep = "read these" if now else "none is chosen yet"
        picked = await app.push_screen_wait(Choose("What is read?", [*options, keep], HINT, start=len(names)))
        if picked is None:
            return ()
        if picked < len(names):
            now ^= {names[picked]}
        elif now:
            return tuple(name for name in names if name in now)
