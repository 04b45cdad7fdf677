"""The commands that record: give, skip, leftovers, note, undo."""

from __future__ import annotations

from argparse import Namespace
from datetime import date, timedelta

from schedules.formatting import clean
from schedules.history.history import history_of
from schedules.ledger import AlreadyMarked, Noted, Observed, Reason, Served, Skipped, Undone
from schedules.round import Refusal, give
from schedules.wording.entries import dose_text, entry_text
from tui.cli.fault import OK, CommandFault, Refused
from tui.cli.out import say
from tui.cli.session import Options, Session, open_session


def give_serving(options: Options, asked: Namespace) -> int:
    """Record a serving; where a rule stands against it, refuse, or record it as extra with --anyway."""
    with open_session(options) as session:
        tank, feed = session.tank(asked.tank), session.feed(asked.feed)
        day = asked.on or session.today
        if day > session.today:
            raise CommandFault(f"--on {day.isoformat()} lies ahead; today is {session.today.isoformat()}")
        history = session.history(post=True)
        if day - timedelta(days=30) < history.first:
            history = history_of(session.ledger, session.today, look_back=(session.today - day).days + 30)
        served = give(session.room, history, day, tank.id, feed.id, asked.amount, anyway=asked.anyway)
        if isinstance(served, Refusal):
            raise Refused(f"{tank.id}, {feed.name}: {served.text} (--anyway records it as extra)")
        _record(session, served, day)
        extra = f", as extra ({served.broke.replace('_', ' ')})" if served.broke else ""
        dose = dose_text(served.amount, served.unit, served.amount_mg)
        say(f"{tank.id}: {dose} of {feed.name} recorded{extra}")
    return OK


def skip_serving(options: Options, asked: Namespace) -> int:
    """Record that a due serving is left out, and why."""
    with open_session(options) as session:
        tank, feed = session.tank(asked.tank), session.feed(asked.feed)
        due = session.history(post=True).due(session.today)
        serving = next((each for each in due if (each.tank, each.feed) == (tank.id, feed.id)), None)
        if serving is None:
            raise CommandFault(f"nothing to skip: {feed.name} is not due in {tank.id} today")
        _record(session, Skipped(tank.id, feed.id, serving.round, Reason.other(clean(asked.because))), session.today)
        say(f"{tank.id}: {feed.name} skipped")
    return OK


def report_leftovers(options: Options, asked: Namespace) -> int:
    """Record how much of a feed was found lying in a tank."""
    with open_session(options) as session:
        tank, feed = session.tank(asked.tank), session.feed(asked.feed)
        _record(session, Observed(tank.id, feed.id, asked.leftovers), session.today)
        say(f"{tank.id}: leftovers of {feed.name}: {asked.leftovers}")
    return OK


def write_note(options: Options, asked: Namespace) -> int:
    """Record a note about a tank."""
    with open_session(options) as session:
        tank = session.tank(asked.tank)
        text = clean(asked.text)
        if not text:
            raise CommandFault("a note needs a text")
        _record(session, Noted(tank.id, text), session.today)
        say(f"{tank.id}: noted")
    return OK


def undo_last(options: Options, _asked: Namespace) -> int:
    """Take back the newest act: of the keeper named, else of anyone."""
    with open_session(options) as session:
        act = session.ledger.last_act(session.by if options.by is not None else None)
        if not act:
            raise CommandFault("nothing to undo")
        session.ledger.append([Undone(act[0].act)], day=act[0].day, at=session.now, by=session.by)
        for entry in act:
            say(f"undone: {entry_text(session.room, entry)}")
    return OK


def _record(session: Session, what: Served | Skipped | Observed | Noted, day: date) -> None:
    try:
        session.ledger.append([what], day=day, at=session.now, by=session.by)
    except AlreadyMarked as marked:
        raise Refused(f"already {entry_text(session.room, marked.winner)}") from None
