"""How a tank's water stands, in plain English: each quantity in a line, what was found, where formulas come from."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from schedules.formatting import date_text, day_text
from schedules.review.water import QuantityState, TankState
from schedules.room import Room
from schedules.room.water.quantities import QUANTITIES, Quantity, change_text, reading_text, value_text
from schedules.room.water.rules import Band
from schedules.water.chemistry.sources import SOURCES
from schedules.water.derived import Ammonia
from schedules.wording.water.amounts import band_text
from schedules.wording.water.findings import finding_text


def quantity_text(room: Room, state: QuantityState, today: date) -> str:
    """The last value, the change since the one before, the trend, the target."""
    parts = [f"{reading_text(state.quantity, state.now.value, room.units)} {_when(state.now.day, today)}"]
    if state.before is not None and state.before.day is not None:
        change = change_text(state.quantity, state.now.value - state.before.value, room.units)
        parts.append(f"{change} since {day_text(state.before.day, today)}")
    if state.now.day is not None:
        parts.append(trend_text(room, state))
    if state.band is not None and (target := target_text(state.quantity, state.band, room)):
        parts.append(target)
    return "; ".join(parts)


def trend_text(room: Room, state: QuantityState) -> str:
    """How fast it moves and when it leaves its target, or that too little was read."""
    trend, units = state.trend, room.units
    if trend is None:
        return "too few readings for a trend"
    if not trend.line.rises_or_falls:
        return "no trend"
    pace = f"{change_text(state.quantity, 7 * trend.line.slope, units)} a week"
    if trend.bound is None or trend.until is None:
        return pace
    return f"{pace}, passes {value_text(state.quantity, trend.bound, units)} about {date_text(trend.until)}"


def target_text(quantity: Quantity, band: Band, room: Room) -> str:
    """The target, else the limits; empty where there is neither."""
    if band.low is not None or band.high is not None:
        return f"target {band_text(quantity, band, room.units)}"
    if band.lowest is not None or band.highest is not None:
        return f"limit {band_text(quantity, Band(band.lowest, band.highest), room.units)}"
    return ""


def state_text(room: Room, state: TankState) -> str:
    """The worst that was found in a tank, in one sentence without the tank's id."""
    if state.own:
        return finding_text(room, state.own[0])
    if state.shared:
        finding = state.shared[0]
        return f"{QUANTITIES[finding.quantity].name} moved with {finding.tank} and others of the rack"
    return "never read" if state.read is None else "nothing found"


def found_lines(room: Room, state: TankState) -> Iterator[str]:
    """Everything that was found in the last two weeks, with its day."""
    for finding in state.own:
        yield f"{date_text(finding.day)}: {finding_text(room, finding)}"
    for finding in state.shared:
        yield f"{date_text(finding.day)}, {finding.tank} for this tank too: {finding_text(room, finding)}"


def ammonia_text(room: Room, ammonia: Ammonia) -> str:
    """What a reading of ammonia means at the tank's own pH and temperature."""
    harmful, chronic = (value_text("ammonia", value, room.units) for value in (ammonia.unionised, ammonia.chronic))
    return (
        f"of the ammonia {harmful} is un-ionised, the part that harms; the EPA's chronic limit for the total "
        f"is {chronic} at this pH and temperature"
    )


def source_lines() -> Iterator[tuple[str, str, str]]:
    """Each formula, where it was published, where it does not hold."""
    for source in SOURCES.values():
        yield source.formula, source.published, source.holds


def _when(day: date | None, today: date) -> str:
    if day is None:
        return "by the room file"
    said = day_text(day, today)
    return said if said in ("today", "yesterday") else f"on {said}"
