"""`rackround water`: the latest readings, how they change, and what that shows."""

from __future__ import annotations

from argparse import Namespace
from dataclasses import asdict
from datetime import date
from typing import Any

from schedules.room import Tank
from schedules.session.session import Session
from schedules.water.chemistry.sources import SOURCES
from schedules.water.derived import ammonia_of
from schedules.water.summary import QuantityNow, water_now
from schedules.water.watch import Finding, room_findings
from schedules.wording.water.findings import finding_text
from schedules.wording.water.now import ammonia_text, now_text, source_lines
from tui.cli.fault import OK
from tui.cli.options import Options
from tui.cli.out import say, say_json
from tui.cli.session import open_session, tank_named


def print_water(options: Options, asked: Namespace) -> int:
    """Print what was last read, how it changes, and what that shows; posts nothing."""
    with open_session(options, "nothing") as session:
        room = session.room
        tanks = [tank_named(room, asked.tank)] if asked.tank else [room.tanks[tank] for tank in room.walk]
        names = {tank.id for tank in tanks}
        found = [
            finding
            for finding in room_findings(room, session.history, session.day)
            if names & {finding.tank, *finding.tanks}
        ]
        if asked.json:
            say_json(_document(session, tanks, found))
            return OK
        for tank in tanks:
            _print_tank(session, tank)
        for finding in found:
            say(f"found on {finding.day.isoformat()}, {finding.tank}: {finding_text(room, finding)}")
        for text in source_lines() if asked.sources else ():
            for line in text.split("\n"):
                say(line)
    return OK


def _print_tank(session: Session, tank: Tank) -> None:
    say(f"{tank.label}:")
    listed = list(water_now(session.history, tank, session.day))
    for now in listed:
        say(f"  {now_text(session.room, now, session.day)}")
    if not listed:
        say("  nothing was read here yet")
    ammonia = ammonia_text(session.room, session.history, tank)
    if ammonia is not None:
        say(f"  {ammonia}")


def _document(session: Session, tanks: list[Tank], found: list[Finding]) -> dict[str, Any]:
    return {
        "format": "rackround-water/1",
        "date": session.day.isoformat(),
        "tanks": [_tank_json(session, tank) for tank in tanks],
        "findings": [_finding_json(session, finding) for finding in found],
        "sources": {name: asdict(source) for name, source in SOURCES.items()},
    }


def _tank_json(session: Session, tank: Tank) -> dict[str, Any]:
    ammonia = ammonia_of(session.history, tank)
    return {
        "tank": tank.id,
        "quantities": [_now_json(tank, now) for now in water_now(session.history, tank, session.day)],
        "ammonia": None
        if ammonia is None
        else {
            "total": ammonia.total.value,
            "unionised": ammonia.unionised,
            "chronic": ammonia.chronic,
            "acute": ammonia.acute,
            "ph": ammonia.ph.value,
            "celsius": ammonia.celsius.value,
        },
    }


def _now_json(tank: Tank, now: QuantityNow) -> dict[str, Any]:
    band = tank.bands.get(now.quantity)
    return {
        "quantity": now.quantity,
        "value": now.value.value,
        "date": _iso(now.value.day),
        "change": now.change,
        "changed_since": None if now.before is None else _iso(now.before.day),
        "days_read": now.count,
        "too_few": now.too_few,
        "band": None if band is None else asdict(band),
        "trend": None
        if now.trend is None
        else {
            "a_day": now.trend.line.slope,
            "least": now.trend.line.low,
            "most": now.trend.line.high,
            "readings": now.trend.count,
            "since": now.trend.first.isoformat(),
            "bound": now.trend.bound,
            "until": _iso(now.trend.until),
        },
    }


def _finding_json(session: Session, finding: Finding) -> dict[str, Any]:
    return {
        "kind": finding.kind,
        "tank": finding.tank,
        "tanks": list(finding.tanks) or [finding.tank],
        "quantity": finding.quantity,
        "date": finding.day.isoformat(),
        "value": finding.value,
        "before": finding.before,
        "since": _iso(finding.since),
        "bound": finding.bound,
        "until": _iso(finding.until),
        "text": finding_text(session.room, finding),
    }


def _iso(day: date | None) -> str | None:
    return None if day is None else day.isoformat()
