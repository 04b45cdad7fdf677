"""`rackround calendar`: rounds, chores, days away, hatches and orders as a calendar file (RFC 5545)."""

from __future__ import annotations

from argparse import Namespace
from datetime import date, datetime, timedelta

from schedules.session.calendar import Event, calendar_events
from schedules.session.session import Session
from schedules.wording.stock.calendar import description, title
from tui.cli.fault import OK
from tui.cli.options import Options
from tui.cli.out import say
from tui.cli.paper.files import needs_extra, write_file
from tui.cli.session import open_session, plan_coming_days

PRODUCT = "-//Rackround//Rackround//EN"


def write_calendar(options: Options, asked: Namespace) -> int:
    """Print the calendar, or write it to a file."""
    with open_session(options, "today") as session:
        plan_coming_days(session, "planning the coming days …")
        events = calendar_events(session)
        with needs_extra("a calendar"):
            content = calendar_bytes(session, events)
    if asked.file is None:
        for line in content.decode("utf-8").splitlines():
            say(line)
    else:
        write_file(asked.file, content)
        say(f"{len(events)} events written to {asked.file}")
    return OK


def calendar_bytes(session: Session, events: tuple[Event, ...]) -> bytes:
    """The calendar as a file: stable ids, so that a calendar that has it already takes over what changed."""
    import icalendar

    made = icalendar.Calendar()
    made.add("prodid", PRODUCT)
    made.add("version", "2.0")
    made.add("x-wr-calname", session.room.name)
    now = session.clock()
    for event in events:
        entry = icalendar.Event()
        entry.add("uid", str(event.uid))
        entry.add("dtstamp", now)
        entry.add("dtstart", event.start)
        entry.add("dtend", event.end)
        entry.add("summary", title(session.room, event))
        entry.add("description", description(session.room, event))
        if not isinstance(event.start, datetime):
            # A day on which nothing has to be done at a time of day: it blocks nobody.
            entry.add("transp", "TRANSPARENT")
        made.add_component(entry)
    if events:
        days = [_day(moment) for event in events for moment in (event.start, event.end)]
        year = timedelta(days=366)  # so that the change of clocks before the first event is in it
        made.add_missing_timezones(first_date=min(days) - year, last_date=max(days) + year)
    return bytes(made.to_ical())


def _day(moment: date | datetime) -> date:
    return moment.date() if isinstance(moment, datetime) else moment
