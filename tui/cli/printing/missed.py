"""`rackround missed`: what was due and neither given nor skipped, and what becomes of it."""

from __future__ import annotations

from argparse import Namespace
from datetime import timedelta
from typing import Any

from schedules.formatting import date_text
from schedules.review.missed import DaySpan, Missed, by_consequence
from schedules.session.missed_rows import DAYS_BACK
from schedules.wording.chores.chores import late_lines
from schedules.wording.missed import summary_lines, unposted_text
from tui.cli.fault import OK, CommandFault
from tui.cli.options import Options
from tui.cli.out import say, say_json
from tui.cli.printing.chores import chore_json
from tui.cli.session import open_session


def print_missed(options: Options, asked: Namespace) -> int:
    """Post today's plan where it was not yet (it says what becomes of a missed serving), then print what was missed."""
    with open_session(options, "today") as session:
        since = asked.since or session.day - timedelta(days=DAYS_BACK)
        if since > session.day:
            raise CommandFault(f"--since {since.isoformat()} lies ahead; today is {session.day.isoformat()}")
        found = session.missed(since)
        unposted, late = session.unposted(since), session.late_chores()
        if asked.json:
            say_json(
                {
                    "format": "rackround-missed/1",
                    "since": since.isoformat(),
                    "unposted": [_span_json(span) for span in unposted],
                    "missed": [_missed_json(each) for each in found],
                    "chores": [chore_json(each) for each in late],
                }
            )
            return OK
        for span in unposted:
            say(unposted_text(span))
        if found:
            for line in summary_lines(session.room, found, by_consequence(found), session.day):
                say(line)
        elif not unposted and not late:
            say(f"nothing missed since {date_text(since)}")
        for number, line in enumerate(late_lines(session.room, late)):
            if number == 0 and (found or unposted):
                say()
            say(line)
    return OK


def _span_json(span: DaySpan) -> dict[str, str]:
    return {"first": span.first.isoformat(), "last": span.last.isoformat()}


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
