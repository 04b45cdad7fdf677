"""`rackround changed`: what was different in a tank and its rack in the last days."""

from __future__ import annotations

import json
from argparse import Namespace
from datetime import timedelta
from typing import Any

from schedules.ledger.lines import line_of
from schedules.review.changes import Difference, differences
from schedules.water.watch import Finding
from schedules.wording.animals.changes import difference_text
from tui.cli.fault import OK
from tui.cli.options import Options
from tui.cli.out import say, say_json
from tui.cli.session import open_session, tank_named


def print_changed(options: Options, asked: Namespace) -> int:
    """Print what differed, what several tanks with deaths have in common first."""
    with open_session(options, "nothing") as session:
        tank = tank_named(session.room, asked.tank)
        history = session.reaching(session.day - timedelta(days=2 * asked.days))
        found = differences(session.room, history, tank.id, session.day, asked.days)
        if asked.json:
            listed = [_difference_json(each, json.loads(line_of(each.entry)) if each.entry else None) for each in found]
            say_json({"format": "rackround-changed/1", "tank": tank.id, "days": asked.days, "differences": listed})
        else:
            say(f"{tank.label} and its rack, the last {asked.days} days")
            for each in found:
                say(f"  {difference_text(session.room, each)}")
            if not found:
                say("  nothing was written down that differed")
    return OK


def _difference_json(each: Difference, entry: Any) -> dict[str, Any]:
    return {
        "kind": each.kind,
        "date": each.day.isoformat(),
        "tank": each.tank,
        "what": each.what,
        "lot": each.lot,
        "shared": each.shared,
        "entry": entry,
        "reading": None if each.finding is None else _reading_json(each.finding),
    }


def _reading_json(found: Finding) -> dict[str, Any]:
    return {
        "kind": found.kind,
        "quantity": found.quantity,
        "before": found.before,
        "value": found.value,
        "since": None if found.since is None else found.since.isoformat(),
        "tanks": list(found.tanks or (found.tank,)),
    }
