"""What the watch over the water found, as flags: one for each sort of finding in a tank on a day."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from typing import Final

from schedules.review.flags.context import Context
from schedules.review.flags.evidence import Advice, WaterFound
from schedules.review.flags.types import Flag, FlagKind
from schedules.room import Tank
from schedules.room.kinds import Severity
from schedules.water.watch import Finding, rack_findings, tank_findings
from schedules.water.watch.findings import FindingKind
from schedules.water.watch.settings import SCALES

FLAGGED: Final[dict[FindingKind, tuple[FlagKind, Severity, Advice]]] = {
    "ammonia": ("ammonia_read", "high", "clear_and_test"),
    "rack_step": ("water_of_rack", "high", "check_meter_and_make_up"),
    "rack_drift": ("water_of_rack", "high", "check_meter_and_make_up"),
    "limit": ("water_limit", "high", "bring_back_slowly"),
    "step": ("water_step", "medium", "read_again"),
    "swing": ("water_step", "medium", "read_again"),
    "drift": ("water_drift", "medium", "find_cause"),
    "leaving": ("water_drift", "medium", "find_cause"),
    "target": ("water_target", "low", "bring_back_slowly"),
}
"""Which flag a finding becomes, how bad that is, and what to do."""


def water_found(context: Context) -> Iterator[Flag]:
    """What the readings show: steps, drifts, limits passed; what a rack has in common is flagged once, at one tank."""
    for tank in context.tanks():
        found: dict[tuple[FlagKind, date], list[Finding]] = {}
        for finding in _findings(context, tank):
            if finding.tank == tank.id and context.within(finding.day):
                found.setdefault((FLAGGED[finding.kind][0], finding.day), []).append(finding)
        for (kind, day), findings in found.items():
            _, severity, advice = FLAGGED[findings[0].kind]
            evidence = WaterFound(tuple(findings))
            extent = sum(_extent(finding) for finding in findings)
            yield Flag(kind, severity, tank.id, None, day, evidence, advice, extent)


def _findings(context: Context, tank: Tank) -> Iterator[Finding]:
    yield from rack_findings(context.room, context.history, tank.rack, context.today)
    yield from tank_findings(context.history, tank, context.today)


def _extent(finding: Finding) -> float:
    """How far a value is from where it was or should be, in steps of what matters for its quantity."""
    near = finding.before if finding.bound is None or finding.kind == "swing" else finding.bound
    scale = SCALES[finding.quantity]
    away = 0.0 if near is None else abs(scale.of(finding.value) - scale.of(near)) / scale.matters
    return round(away, 2)
