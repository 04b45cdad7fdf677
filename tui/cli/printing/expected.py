"""`rackround expected`: the hatches that are expected, and what to do before."""

from __future__ import annotations

from argparse import Namespace
from datetime import date
from typing import Any

from schedules.review.expected import Expected, expected_hatches
from schedules.wording.animals.expected import BEFORE_A_HATCH, expected_text
from tui.cli.fault import OK
from tui.cli.options import Options
from tui.cli.out import say, say_json
from tui.cli.session import open_session


def print_expected(options: Options, asked: Namespace) -> int:
    """Print what is expected from today on."""
    with open_session(options, "nothing") as session:
        found = expected_hatches(session.room, session.life, session.day)
        if asked.json:
            say_json({"format": "rackround-expected/1", "date": session.day.isoformat(), "hatches": _listed(found)})
            return OK
        if not found:
            say("no hatch is expected")
            return OK
        for each in found:
            say(f"{session.room.tanks[each.tank].label}: {expected_text(each, session.day)}")
        say()
        for line in BEFORE_A_HATCH:
            say(line)
    return OK


def _listed(found: tuple[Expected, ...]) -> list[dict[str, Any]]:
    return [
        {
            "tank": each.tank,
            "state": each.state,
            "females": each.females,
            "heads": each.heads,
            "berried": _iso(each.berried),
            "eyed": _iso(each.eyed),
            "first": _iso(each.window.first if each.window else None),
            "last": _iso(each.window.last if each.window else None),
            "film_from": _iso(each.film_from),
        }
        for each in found
    ]


def _iso(day: date | None) -> str | None:
    return None if day is None else day.isoformat()
