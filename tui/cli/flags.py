"""`rackround flags`: what was too much or too little, worst first."""

from __future__ import annotations

from argparse import Namespace
from typing import Any

from schedules.flags import Flag, flags
from tui.cli.fault import OK
from tui.cli.out import say, say_json
from tui.cli.session import Options, open_session


def print_flags(options: Options, asked: Namespace) -> int:
    """Print the flags as of now; posts nothing."""
    with open_session(options) as session:
        found = flags(session.room, session.history(), session.now)
        if asked.json:
            say_json({"date": session.today.isoformat(), "flags": [flag_json(flag) for flag in found]})
            return OK
        for flag in found:
            tank = session.room.tanks.get(flag.tank)
            say(f"{flag.severity}: {flag.tank} {tank.name if tank else ''}: {flag.evidence}. {flag.advice}")
        if not found:
            say("no flags")
    return OK


def flag_json(flag: Flag) -> dict[str, Any]:
    """A flag as JSON."""
    return {
        "kind": flag.kind,
        "severity": flag.severity,
        "tank": flag.tank,
        "feed": flag.feed,
        "day": flag.day.isoformat(),
        "evidence": flag.evidence,
        "advice": flag.advice,
    }
