"""`rackround missed`: what was due and neither given nor skipped, and what becomes of it."""

from __future__ import annotations

from argparse import Namespace
from datetime import date, timedelta
from typing import Any

from schedules.formatting import date_text
from schedules.review.missed import Missed
from schedules.room import Room
from schedules.session.missed_rows import DAYS_BACK
from schedules.wording.entries import due_text, feed_name, outcome_text
from schedules.wording.needs import waiting_text
from tui.cli.fault import OK, CommandFault
from tui.cli.out import say, say_json
from tui.cli.session import Options, open_session


def print_missed(options: Options, asked: Namespace) -> int:
    """Post today's plan where it was not yet (it says what becomes of a missed serving), then print what was missed."""
    with open_session(options, "today") as session:
        since = asked.since or session.day - timedelta(days=DAYS_BACK)
        if since > session.day:
            raise CommandFault(f"--since {since.isoformat()} lies ahead; today is {session.day.isoformat()}")
        found = session.missed(since)
        unposted = session.unposted(since)
        if asked.json:
            say_json(
                {
                    "format": "rackround-missed/1",
                    "since": since.isoformat(),
                    "unposted": [day.isoformat() for day in unposted],
                    "missed": [_missed_json(each) for each in found],
                }
            )
            return OK
        for each in found:
            say(missed_line(session.room, each, session.day))
        for day in unposted:
            say(f"{date_text(day)}: no plan was posted for this day, so nothing was due")
        if not found and not unposted:
            say(f"nothing missed since {date_text(since)}")
    return OK


def missed_line(room: Room, each: Missed, today: date) -> str:
    """One missed serving as a sentence."""
    due = each.due
    feed = feed_name(room, due.feed)
    tank = room.tanks[due.tank]
    return (
        f"{tank.id} {tank.name}: {feed}, {due_text(due)}, missed {date_text(each.day)}; "
        f"{waiting_text(room, each)}; {outcome_text(each, today)}"
    )


def _missed_json(each: Missed) -> dict[str, Any]:
    return {
        "date": each.day.isoformat(),
        "round": each.due.round,
        "tank": each.due.tank,
        "feed": each.due.feed,
        "amount": each.due.amount,
        "unit": each.due.unit,
        "need": each.need,
        "days_without": each.without,
        "max_gap": each.max_gap,
        "overdue": each.overdue,
        "outcome": each.outcome,
        "on": each.on.isoformat() if each.on else None,
    }
