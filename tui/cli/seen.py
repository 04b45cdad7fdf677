"""`rackround seen`: set a flag aside, as one key does on the flags screen."""

from __future__ import annotations

from argparse import Namespace
from collections.abc import Iterable, Sequence
from typing import get_args

from schedules.review.flags import Flag, FlagKind, flags
from schedules.review.flags.acknowledged import acknowledgement_of, acknowledgements, set_apart
from schedules.wording.entries import entry_text
from tui.cli.fault import OK, CommandFault, Refused
from tui.cli.out import say
from tui.cli.session import Options, known, open_session


def mark_seen(options: Options, asked: Namespace) -> int:
    """Record that a flag was seen, for every keeper; refused where it is set aside already."""
    with open_session(options) as session:
        tank, history = session.tank(asked.tank), session.history()
        kind = known(asked.flag.replace(" ", "_").replace("-", "_"), get_args(FlagKind), "kind of flag")
        feed = None if asked.feed is None else session.feed(asked.feed).id
        of_tank = flags(session.room.only(tank.id), history, session.now)
        named = [
            flag for flag in of_tank if flag.kind == kind and feed in (None, flag.feed) and asked.on in (None, flag.day)
        ]
        standing, aside = set_apart(named, history)
        if aside and not standing:
            seen = acknowledgements(aside[0], history)[0]
            raise Refused(f"already {entry_text(session.room, seen)}")
        flag = _the_one(tank.id, kind, standing, of_tank)
        session.ledger.append([acknowledgement_of(flag)], day=flag.day, at=session.now, by=session.by)
        say(f"{tank.id}: seen: {flag.evidence}")
    return OK


def _the_one(tank: str, kind: str, found: Sequence[Flag], of_tank: Iterable[Flag]) -> Flag:
    """The only flag found; else a fault that names those there are."""
    if not found:
        there = "; ".join(f"{flag.kind} ({_which(flag)})" for flag in of_tank) or "none"
        raise CommandFault(f'no flag "{kind}" of {tank} as named; the flags of {tank}: {there}')
    if len(found) > 1:
        raise CommandFault(
            f'{len(found)} flags "{kind}" of {tank}; name one with --feed and --on: '
            + "; ".join(_which(flag) for flag in found)
        )
    return found[0]


def _which(flag: Flag) -> str:
    return f"{flag.feed}, {flag.day.isoformat()}" if flag.feed else flag.day.isoformat()
