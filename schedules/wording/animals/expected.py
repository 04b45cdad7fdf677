"""Expected hatches and what to do before them, in plain English."""

from __future__ import annotations

from datetime import date
from typing import Final

from schedules.formatting import counted, date_text, day_text, number_text
from schedules.history.life.hatching import COLDEST, WARMEST
from schedules.review.expected import Expected

BEFORE_A_HATCH: Final = (
    "Before a hatch: guard the filter's intake with fine mesh or a sponge, do not net in the tank, and change little "
    "water at a time.",
    "The plan gives film from five days before the window, fine feed from its first day. Common practice, no source.",
)


def expected_text(each: Expected, today: date) -> str:
    """One expected hatch in one line."""
    if each.state == "in_file":
        assert each.window is not None
        return f"{each.heads} shrimplets from {date_text(each.window.first)}, by the room file"
    said = f"{counted(each.females, 'female')} {_seen(each)}"
    if each.window is None:
        celsius = "" if each.temperature is None else f" at {number_text(each.temperature)} °C"
        return (
            f"{said}: no day can be given{celsius}; times are published from {COLDEST:.0f} to {WARMEST:.0f} °C only. "
            "Say when you see eyes in the eggs, and the hatch"
        )
    span = f"{date_text(each.window.first)} to {date_text(each.window.last)}"
    if each.state == "passed":
        return (
            f"{said}: a hatch was expected {span}, and nothing was seen. Did it come? "
            f"`rackround saw ROOM.toml {each.tank} hatch --on DATE`, or `berried --heads 0` if the eggs are gone"
        )
    if each.state == "due":
        return f"{said}: hatch expected now, {span}"
    film = "" if each.film_from is None else f"; film from {day_text(max(each.film_from, today), today)}"
    return f"{said}: hatch expected {span}{film}"


def _seen(each: Expected) -> str:
    seen = []
    if each.berried is not None:
        seen.append(f"seen berried {date_text(each.berried)}")
    if each.eyed is not None:
        seen.append(f"eyes seen {date_text(each.eyed)}")
    return ", ".join(seen)
