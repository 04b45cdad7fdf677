"""How a tank's water stands: what was read last, how it moves, what was found; and a room's tanks, worst first."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Final

from schedules.history import History
from schedules.review.flags.readings import FLAGGED
from schedules.room import Room, Tank
from schedules.room.kinds import Severity
from schedules.room.water.quantities import QUANTITIES, Quantity
from schedules.room.water.rules import Band
from schedules.water.readings import Value, latest, series
from schedules.water.watch import Finding, Trend, rack_findings, room_findings, tank_findings, too_few, trend

RECENT: Final = timedelta(days=14)
"""So far back a finding still says how the water stands. Common practice, no source."""
WEIGHT: Final[Mapping[Severity, int]] = {"high": 3, "medium": 2, "low": 1}


@dataclass(frozen=True, slots=True)
class QuantityState:
    """One quantity of a tank: the last value, the one read before it, its trend (None for too few readings)."""

    quantity: Quantity
    now: Value
    before: Value | None
    trend: Trend | None
    few: bool
    band: Band | None


@dataclass(frozen=True, slots=True)
class TankState:
    """The findings of the last two weeks, worst first: those of the tank, and those it has in common with its rack.

    A finding of a whole rack is the tank's own only where it stands for the others.
    """

    tank: str
    own: tuple[Finding, ...]
    shared: tuple[Finding, ...]
    read: date | None

    @property
    def severity(self) -> Severity | None:
        """How bad its own worst finding is."""
        return severity_of(self.own[0]) if self.own else None


def severity_of(finding: Finding) -> Severity:
    """How bad a finding is."""
    return FLAGGED[finding.kind][1]


def worst_first(room: Room, history: History, today: date) -> tuple[TankState, ...]:
    """Every tank: the worst finding first, of those alike the newest; then those that share one; then as they stand."""
    found = [each for each in room_findings(room, history, today) if today - each.day <= RECENT]
    states = [_state(history, tank, found) for tank in room.walk]
    return tuple(sorted(states, key=_rank))


def tank_state(room: Room, history: History, tank: Tank, today: date) -> TankState:
    """One tank."""
    all_found = (*tank_findings(history, tank, today), *rack_findings(room, history, tank.rack, today))
    found = [each for each in all_found if today - each.day <= RECENT]
    return _state(history, tank.id, found)


def quantity_states(history: History, tank: Tank, today: date) -> tuple[QuantityState, ...]:
    """Every quantity of a tank of which a value is known, in the usual order."""
    return tuple(
        _quantity(history, tank, quantity, now, today)
        for quantity in QUANTITIES
        if (now := latest(history, tank, quantity, today)) is not None
    )


def _quantity(history: History, tank: Tank, quantity: Quantity, now: Value, today: date) -> QuantityState:
    earlier = [value for value in series(history, tank.id, quantity) if value.day is not None and value.day <= today]
    before = earlier[-2] if len(earlier) > 1 else None
    few = too_few(history, tank, quantity, today)
    return QuantityState(quantity, now, before, trend(history, tank, quantity, today), few, tank.bands.get(quantity))


def _state(history: History, tank: str, found: Iterable[Finding]) -> TankState:
    own = sorted((each for each in found if each.tank == tank), key=_badness)
    shared = tuple(each for each in found if tank in each.tanks and each.tank != tank)
    read = history.water_of(tank)
    return TankState(tank, tuple(own), shared, read[-1].day if read else None)


def _badness(finding: Finding) -> tuple[int, int]:
    return -WEIGHT[severity_of(finding)], -finding.day.toordinal()


def _rank(state: TankState) -> tuple[int, int, int]:
    if state.own:
        return (0, *_badness(state.own[0]))
    return (1, 0, 0) if state.shared else (2, 0, 0)
