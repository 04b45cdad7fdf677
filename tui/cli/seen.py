"""`rackround seen`: set a flag aside, as one key does on the flags screen."""

from __future__ import annotations

from argparse import Namespace
from collections.abc import Iterable, Sequence
from typing import get_args

from schedules.review.flags import Flag, FlagKind
from schedules.wording.glossary import FLAG_NAMES
from tui.cli.fault import CommandFault
from tui.cli.marks import ended
from tui.cli.options import Options
from tui.cli.session import feed_named, known, open_session, tank_named


def mark_seen(options: Options, asked: Namespace) -> int:
    """Record that a flag was seen, for every keeper; refused where it is set aside already."""
    with open_session(options, "today") as session:
        tank = tank_named(session.room, asked.tank).id
        named_so = {name: kind for kind, name in FLAG_NAMES.items()}
        word = named_so.get(asked.flag.lower(), asked.flag.replace(" ", "_").replace("-", "_"))
        kind = known(word, get_args(FlagKind), "kind of flag")
        feed = None if asked.feed is None else feed_named(session.room, asked.feed).id
        of_tank = session.flags_of(tank)
        named = [
            flag for flag in of_tank if flag.kind == kind and feed in (None, flag.feed) and asked.on in (None, flag.day)
        ]
        standing = session.standing(named)
        flag = named[0] if named and not standing else _the_one(tank, kind, standing, of_tank)
        return ended(session, session.acknowledge(flag))


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
