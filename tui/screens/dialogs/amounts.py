"""Another amount of a serving: picked from a few, or typed with a point or a comma."""

from __future__ import annotations

import re
from typing import Any, Final

from textual.app import App

from schedules.ledger import PostedServing
from schedules.room import Feed
from schedules.round.choices import amounts_around
from schedules.session.session import Session
from schedules.wording.doses import choice_text, unit_text
from tui.screens.dialogs.ask import Ask
from tui.screens.dialogs.choose import Choose

MOST: Final = 1000
"""More of a feed's measures, or of millilitres, is a slip of the hand."""
_NUMBER: Final = re.compile(r"[0-9]*[.,]?[0-9]+|[0-9]+[.,]")


def amount_of(typed: str) -> float | None:
    """The number in a text, above 0 and at most `MOST`; None where it is none."""
    text = typed.strip()
    if not _NUMBER.fullmatch(text):
        return None
    amount = float(text.replace(",", "."))
    return amount if 0 < amount <= MOST else None


def amount_fault(typed: str) -> str:
    """What is wrong with a typed amount, in words; empty where nothing is."""
    if amount_of(typed) is not None:
        return ""
    return f'"{typed.strip()}" is no amount: type a number above 0 and up to {MOST}, such as 1.5 or 1,5'


async def ask_amount(app: App[Any], session: Session, tank: str, feed: Feed, due: PostedServing) -> float | None:
    """An amount the keeper can take, as measures: a few steps around what is due, or one that is typed."""
    unit, ways = amounts_around(session.doses, feed, due)
    as_due = min(range(len(ways)), key=lambda number: abs(ways[number].measures - due.amount))
    options = [*(choice_text(feed, way) for way in ways), "another amount"]
    title = f"{tank}: how much {feed.name}?"
    picked = await app.push_screen_wait(Choose(title, options, start=as_due))
    if picked is None or picked < len(ways):
        return None if picked is None else ways[picked].measures
    title = f"{tank}: how many {unit_text(feed, unit)} of {feed.name}?"
    typed = await app.push_screen_wait(Ask(title, limit=8, check=amount_fault))
    amount = None if typed is None else amount_of(typed)
    return None if amount is None else amount * unit.measures
