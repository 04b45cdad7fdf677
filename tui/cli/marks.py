"""The commands that record: give, skip, leftovers, came, note, undo. Each is one act of the session."""

from __future__ import annotations

from argparse import Namespace

from schedules.session.outcome import Outcome
from schedules.session.session import Session
from schedules.wording.outcomes import outcome_text
from tui.cli.fault import OK, CommandFault, Refused
from tui.cli.options import Options
from tui.cli.out import confirm
from tui.cli.session import feed_named, open_session, tank_named


def give_serving(options: Options, asked: Namespace) -> int:
    """Record a serving; where a rule forbids it, refuse, or record it as extra with --anyway."""
    with open_session(options, "today") as session:
        tank, feed = tank_named(session.room, asked.tank), feed_named(session.room, asked.feed)
        if asked.on is not None and asked.on > session.day:
            raise CommandFault(f"--on {asked.on.isoformat()} lies ahead; today is {session.day.isoformat()}")
        outcome = session.give(tank.id, feed.id, asked.amount, day=asked.on, anyway=asked.anyway)
        return ended(session, outcome, "--anyway records it as extra")


def skip_serving(options: Options, asked: Namespace) -> int:
    """Record that a due serving is left out, and why."""
    with open_session(options, "today") as session:
        tank, feed = tank_named(session.room, asked.tank), feed_named(session.room, asked.feed)
        return ended(session, session.skip(tank.id, [feed.id], asked.because))


def report_leftovers(options: Options, asked: Namespace) -> int:
    """Record how much of a feed was found lying in a tank."""
    with open_session(options, "today") as session:
        tank, feed = tank_named(session.room, asked.tank), feed_named(session.room, asked.feed)
        return ended(session, session.observe(tank.id, feed.id, asked.leftovers))


def report_response(options: Options, asked: Namespace) -> int:
    """Record how the animals of a tank came to a feed."""
    with open_session(options, "today") as session:
        tank, feed = tank_named(session.room, asked.tank), feed_named(session.room, asked.feed)
        return ended(session, session.came(tank.id, feed.id, asked.came))


def write_note(options: Options, asked: Namespace) -> int:
    """Record a note about a tank."""
    with open_session(options, "today") as session:
        return ended(session, session.note(tank_named(session.room, asked.tank).id, asked.text))


def undo_last(options: Options, _asked: Namespace) -> int:
    """Take back the keeper's newest act of today."""
    with open_session(options, "today") as session:
        return ended(session, session.undo())


def ended(session: Session, outcome: Outcome, insist: str = "") -> int:
    """Print what an act came to; raise what ends the command where it was not recorded.

    `insist` says how to record what a rule forbids all the same.
    """
    text = outcome_text(session.room, outcome)
    if outcome.done:
        confirm(text)
        return OK
    if outcome.result == "refused":
        raise Refused(f"{text} ({insist})" if insist else text)
    if outcome.result == "already_marked":
        raise Refused(text)
    raise CommandFault(outcome.fault or text)
