"""Why a serving should not be given now, in one sentence."""

from __future__ import annotations

from schedules.room import Room
from schedules.round import Refusal


def refusal_text(room: Room, refusal: Refusal) -> str:  # noqa: ARG001 (names come from the room)
    """The rule that stands against a serving, and who gave what when."""
    return refusal.text
