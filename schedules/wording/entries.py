"""Entries of the ledger in a few words, for screens and commands alike. Plain text: it may hold the keeper's words."""

from __future__ import annotations

from datetime import date
from typing import Final

from schedules.formatting import amount_text, clock_text, date_text, day_text, measurable, method_text, mg_text
from schedules.ledger import Acknowledged, Entry, Noted, Observed, PostedServing, Served, Skipped, Undone
from schedules.review.missed import Missed
from schedules.room import Room
from schedules.room.kinds import Stage

STAGE_TEXT: Final[dict[Stage, str]] = {
    "shrimplet": "shrimplets",
    "juvenile": "juveniles",
    "adult": "adults",
    "filter_feeder": "filter feeders",
}


def marked_text(room: Room, entry: Entry) -> str:
    """What an entry says, without who and when."""
    what = entry.what
    if isinstance(what, Served):
        dose = dose_text(what.amount, what.unit, what.amount_mg)
        return f"{dose} of {feed_name(room, what.feed)} given to {what.tank}"
    if isinstance(what, Skipped):
        return f"{feed_name(room, what.feed)} skipped in {what.tank}, {what.because}"
    if isinstance(what, Observed):
        return f"leftovers of {feed_name(room, what.feed)} in {what.tank}: {what.leftovers}"
    if isinstance(what, Noted):
        return f"note about {what.tank or 'the room'}: {what.text}"
    if isinstance(what, Acknowledged):
        return f"flag of {what.tank} seen: {flag_name(room, what.flag, what.feed)}, {date_text(entry.day)}"
    return "an act taken back" if isinstance(what, Undone) else "plan posted"


def entry_text(room: Room, entry: Entry) -> str:
    """What an entry says, who made it and when."""
    # A flag is about the past as a rule; whoever has seen it did so on another day.
    day = room.day(entry.at) if isinstance(entry.what, Acknowledged) else entry.day
    when = f"{date_text(day)} {clock_text(entry.at, room.zone)}"
    return f"{marked_text(room, entry)} ({entry.by or 'the program'}, {when})"


def dose_text(amount: float, unit: str, amount_mg: float) -> str:
    """An amount as the keeper takes it: in measures where these can be measured, else by weight in the mix."""
    if measurable(amount):
        return f"{amount_text(amount, unit)} ({mg_text(amount_mg)})"
    return f"{mg_text(amount_mg)} in the mix"


def due_text(due: PostedServing) -> str:
    """How much of a due serving is given."""
    return dose_text(due.amount, due.unit, due.amount_mg)


def how_text(due: PostedServing) -> str:
    """How a due serving is given."""
    return method_text(due.method, mixed=not measurable(due.amount))


def feed_name(room: Room, feed: str) -> str:
    """A feed's name; its id where it left the stock."""
    return room.feeds[feed].name if feed in room.feeds else feed


def flag_name(room: Room, kind: str, feed: str | None) -> str:
    """A flag's kind in words, with the feed it is about."""
    return kind.replace("_", " ") + (f", {feed_name(room, feed)}" if feed is not None else "")


def outcome_text(each: Missed, today: date) -> str:
    """What becomes of a missed serving, in words."""
    if each.outcome == "let go":
        return "let go, none planned" if each.on is None else f"let go, next {day_text(each.on, today)}"
    if each.on is None:
        return each.outcome
    return f"{each.outcome}: {day_text(each.on, today)}"
