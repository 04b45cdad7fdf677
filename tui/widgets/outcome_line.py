"""What an act came to, in one line."""

from __future__ import annotations

from typing import Final

from schedules.session.outcome import Outcome
from schedules.session.session import Session
from schedules.wording.outcomes import outcome_text
from tui.widgets.cells import short

NAME: Final = 30
"""Cells of a feed's name in the line, so that what follows it stays in view."""


def outcome_line(session: Session, outcome: Outcome) -> str:
    """What an act came to, its feeds' names short so that the reason stays in view."""
    return outcome_text(session.room, outcome, session.doses, lambda name: short(name, NAME))
