"""`rackround flags`: what was too much or too little, worst first, what keepers have seen last."""

from __future__ import annotations

from argparse import Namespace
from typing import Any

from schedules.ledger import Entry
from schedules.review.flags import Flag
from schedules.review.flags.acknowledged import acknowledgements, set_apart
from schedules.room import Room
from schedules.session.session import Session
from schedules.wording.entries import flag_name
from schedules.wording.flags import advice_text, evidence_text
from tui.cli.fault import OK
from tui.cli.options import Options
from tui.cli.out import say, say_json
from tui.cli.session import open_session


def print_flags(options: Options, asked: Namespace) -> int:
    """Print the flags as of now; posts nothing."""
    with open_session(options, "nothing") as session:
        standing, aside = set_apart(session.flags(), session.history)
        listed = [(flag, acknowledgements(flag, session.history)) for flag in (*standing, *aside)]
        if asked.json:
            found = [flag_json(session.room, flag) | {"seen_by": [entry.by for entry in seen]} for flag, seen in listed]
            say_json({"format": "rackround-flags/1", "date": session.day.isoformat(), "flags": found})
            return OK
        for flag, seen in listed:
            _print_flag(session, flag, seen)
        if not listed:
            say("no flags")
    return OK


def _print_flag(session: Session, flag: Flag, seen: tuple[Entry, ...]) -> None:
    tank = session.room.tanks[flag.tank]
    weight = (
        f"seen by {', '.join(dict.fromkeys(entry.by or 'the program' for entry in seen))}" if seen else flag.severity
    )
    kind = flag_name(session.room, flag.kind, None)
    evidence, advice = evidence_text(session.room, flag), advice_text(session.room, flag)
    look = f" `rackround changed ROOM.toml {flag.tank}` lists it." if flag.advice == "look_what_changed" else ""
    say(f"{weight}: {tank.label}: {kind}: {evidence}. {advice}{look}")


def flag_json(room: Room, flag: Flag) -> dict[str, Any]:
    """A flag as JSON."""
    return {
        "kind": flag.kind,
        "severity": flag.severity,
        "tank": flag.tank,
        "feed": flag.feed,
        "day": flag.day.isoformat(),
        "evidence": evidence_text(room, flag),
        "advice": advice_text(room, flag),
        "advice_code": flag.advice,
    }
