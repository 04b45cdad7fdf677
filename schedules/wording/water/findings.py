"""What the watch found, in one sentence each."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import date
from typing import Final

from schedules.formatting import counted, date_text
from schedules.room import Room
from schedules.room.water.quantities import QUANTITIES, change_text, value_text
from schedules.water.watch import Finding
from schedules.water.watch.findings import FindingKind


def finding_text(room: Room, finding: Finding) -> str:
    """One finding: what, from where to where, since when."""
    return _TEXTS[finding.kind](room, finding)


def trend_text(room: Room, finding: Finding) -> str:
    """How fast, for a week."""
    assert finding.slope is not None
    return f"{change_text(finding.quantity, 7 * finding.slope, room.units)} a week"


def _name(finding: Finding) -> str:
    return QUANTITIES[finding.quantity].name


def _value(room: Room, finding: Finding, value: float | None) -> str:
    return "?" if value is None else value_text(finding.quantity, value, room.units)


def _from_to(room: Room, finding: Finding) -> str:
    before, value = _value(room, finding, finding.before), _value(room, finding, finding.value)
    part = ""
    if finding.quantity in ("tds", "conductivity") and finding.before:
        part = f" ({100 * (finding.value / finding.before - 1):+.0f} %)"
    return f"from {before} to {value}{part}"


def _since(since: date | None) -> str:
    return "" if since is None else f" since {date_text(since)}"


def _step(room: Room, finding: Finding) -> str:
    return f"{_name(finding)} {_from_to(room, finding)}{_since(finding.since)}, in one step"


def _swing(room: Room, finding: Finding) -> str:
    daily = change_text(finding.quantity, finding.bound or 0.0, room.units).lstrip("+")
    return f"{_name(finding)} {_from_to(room, finding)}{_since(finding.since)}; at most {daily} a day are wanted"


def _drift(room: Room, finding: Finding) -> str:
    level = f"its own level of {_value(room, finding, finding.before)} ({counted(finding.count, 'reading')})"
    return f"{_name(finding)} has moved away from {level}: on average {_value(room, finding, finding.value)} now"


def _tanks(room: Room, finding: Finding) -> str:
    racks = {room.tanks[tank].rack for tank in finding.tanks}
    of = f"rack {room.tanks[finding.tank].rack}" if len(racks) <= 1 else counted(len(racks), "rack")
    return f"{len(finding.tanks)} tanks of {of}"


def _rack_step(room: Room, finding: Finding) -> str:
    where = f"in {_tanks(room, finding)} at once"
    return f"{_name(finding)} moved {where}, here {_from_to(room, finding)}: the meter or the make-up water"


def _rack_drift(room: Room, finding: Finding) -> str:
    where = f"in {_tanks(room, finding)} together"
    return f"{_name(finding)} drifts {where}, here {_from_to(room, finding)}: the meter or what the tanks share"


def _bound(room: Room, finding: Finding) -> str:
    side = "above" if finding.bound is not None and finding.value > finding.bound else "below"
    what = "limit" if finding.kind == "limit" else "target"
    return f"{_name(finding)} {_value(room, finding, finding.value)}, {side} the {what} of {_bound_text(room, finding)}"


def _bound_text(room: Room, finding: Finding) -> str:
    return _value(room, finding, finding.bound)


def _leaving(room: Room, finding: Finding) -> str:
    until = "" if finding.until is None else date_text(finding.until)
    readings = f"by {counted(finding.count, 'reading')}{_since(finding.since)}"
    now = _value(room, finding, finding.value)
    return (
        f"{_name(finding)} {now}, {trend_text(room, finding)} {readings}: passes {_bound_text(room, finding)} "
        f"about {until}"
    )


def _ammonia(room: Room, finding: Finding) -> str:
    total, limit = _value(room, finding, finding.value), _bound_text(room, finding)
    return f"ammonia {total} (as nitrogen), above the chronic limit of {limit} at this pH and temperature (EPA 2013)"


_TEXTS: Final[Mapping[FindingKind, Callable[[Room, Finding], str]]] = {
    "step": _step,
    "swing": _swing,
    "drift": _drift,
    "rack_step": _rack_step,
    "rack_drift": _rack_drift,
    "limit": _bound,
    "target": _bound,
    "leaving": _leaving,
    "ammonia": _ammonia,
}
