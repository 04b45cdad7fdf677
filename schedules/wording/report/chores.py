"""The chores of the weekly report in words: all of them, then each, with a column for each week."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from schedules.formatting import minutes_text
from schedules.review.report import Week
from schedules.review.report.chores import ChoreKept
from schedules.room import Room

WORDS: Final = {"done": "done", "left_out": "left out", "missed": "missed", "late": "late at the end"}
"""What a chore came to, and how that is said."""


def chore_rows(room: Room, weeks: Sequence[Week]) -> tuple[tuple[str, ...], ...]:
    """What was done with its minutes, left out, missed, and what was late at the end; then chore by chore."""
    named = {each.chore for week in weeks for each in week.chores}
    if not named:
        return ()
    totals = [(text, *(_total(week, name) for week in weeks)) for name, text in WORDS.items()]
    chores = [
        (f"  {chore.name}", *(_one(week, chore.id) for week in weeks)) for chore in room.chores if chore.id in named
    ]
    return (*totals, *chores)


def _total(week: Week, name: str) -> str:
    count = sum(getattr(each, name) for each in week.chores)
    if name != "done" or not count:
        return str(count)
    return f"{count}, {minutes_text(sum(each.minutes for each in week.chores))}"


def _one(week: Week, chore: str) -> str:
    found = next((each for each in week.chores if each.chore == chore), None)
    return "–" if found is None else _said(found)


def _said(found: ChoreKept) -> str:
    return ", ".join(f"{count} {text}" for name, text in WORDS.items() if (count := getattr(found, name)))
