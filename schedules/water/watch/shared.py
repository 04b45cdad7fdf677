"""What racks have in common: the same step or drift in several is one finding, of the meter or the make-up water."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace

from schedules.room import Room
from schedules.water.watch.findings import Finding, FindingKind
from schedules.water.watch.settings import NEAR_DAYS, SCALES, TOGETHER

STEPS: tuple[FindingKind, ...] = ("rack_step", "step")
DRIFTS: tuple[FindingKind, ...] = ("rack_drift",)


def put_together(room: Room, findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """Findings, those that are alike in several racks as one: steps of one day, drifts found within some days.

    Steps of single tanks count too, since in a rack of two tanks no step is one of the rack. The first drift keeps its
    day, so that it stays the same finding when the next rack shows it.
    """
    found = list(findings)
    steps = _alike(room, [each for each in found if each.kind in STEPS], 0)
    drifts = _alike(room, [each for each in found if each.kind in DRIFTS], NEAR_DAYS)
    return (*(each for each in found if each.kind not in STEPS + DRIFTS), *steps, *drifts)


def _alike(room: Room, findings: list[Finding], days: int) -> Iterator[Finding]:
    left = sorted(findings, key=lambda each: (each.day, -len(each.tanks)))
    while left:
        first = left[0]
        group = [each for each in left if _is_alike(first, each, days)]
        tanks = tuple(tank for each in group for tank in each.tanks or (each.tank,))
        if len({room.tanks[tank].rack for tank in tanks}) > 1 and len(tanks) >= TOGETHER:
            yield replace(first, kind="rack_drift" if first.kind in DRIFTS else "rack_step", tanks=tanks)
        else:
            group = [first]
            yield first
        left = [each for each in left if not any(each is other for other in group)]


def _is_alike(first: Finding, other: Finding, days: int) -> bool:
    """Whether two moves are of one quantity, near in time, the same way, and neither is more than twice the other."""
    if first.quantity != other.quantity or (other.day - first.day).days > days:
        return False
    one, two = _moved(first), _moved(other)
    return one * two > 0 and abs(one) <= 2 * abs(two) and abs(two) <= 2 * abs(one)


def _moved(finding: Finding) -> float:
    scale = SCALES[finding.quantity]
    return 0.0 if finding.before is None else scale.of(finding.value) - scale.of(finding.before)
