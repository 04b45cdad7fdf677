"""The latest values of a tank in words: value, change, trend."""

from __future__ import annotations

from datetime import date

from schedules.formatting import counted, day_text
from schedules.history import History
from schedules.room import Room, Tank
from schedules.room.water.quantities import change_text, reading_text, value_text
from schedules.water.chemistry.sources import SOURCES
from schedules.water.derived import ammonia_of
from schedules.water.summary import QuantityNow


def now_text(room: Room, now: QuantityNow, today: date) -> str:
    """One quantity in one line: `TDS 186 mg/L today, +4 mg/L since Mon 23 Nov; +2 mg/L a week by 9 readings`."""
    text = reading_text(now.quantity, now.value.value, room.units)
    if now.value.day is None:
        return f"{text} by the room file"
    text += f" {day_text(now.value.day, today)}"
    if now.before is not None and now.before.day is not None and now.change is not None:
        since = day_text(now.before.day, today)
        text += f", {change_text(now.quantity, now.change, room.units)} since {since}"
    return f"{text}; {_trend_text(room, now, today)}"


def _trend_text(room: Room, now: QuantityNow, today: date) -> str:
    if now.too_few:
        return f"too few readings to judge by ({now.count})"
    if now.trend is None:
        return f"too few readings for a trend ({counted(now.count, 'day')})"
    line = now.trend.line
    if not line.rises_or_falls:
        return f"steady by {counted(now.trend.count, 'reading')}"
    slope = change_text(now.quantity, 7 * line.slope, room.units)
    low, high = (change_text(now.quantity, 7 * end, room.units) for end in (line.low, line.high))
    text = f"{slope} a week by {counted(now.trend.count, 'reading')} ({low} to {high})"
    if now.trend.until is None or now.trend.bound is None:
        return text
    bound = value_text(now.quantity, now.trend.bound, room.units)
    return f"{text}, passes {bound} about {day_text(now.trend.until, today)}"


def ammonia_text(room: Room, history: History, tank: Tank) -> str | None:
    """What the latest ammonia reading means at the tank's own pH and temperature; None where one of them is missing."""
    found = ammonia_of(history, tank)
    if found is None:
        return None
    at = f"pH {found.ph.value:g}, {value_text('temperature', found.celsius.value, room.units)}"
    return (
        f"ammonia {found.total.value:.3g} mg/L as nitrogen: {found.unionised:.2g} of it un-ionised at {at}; "
        f"criteria (EPA 2013) chronic {found.chronic:.2g}, acute {found.acute:.2g} mg/L"
    )


def source_lines() -> list[str]:
    """Each formula with its source and where it holds."""
    return [f"{source.formula}\n  {source.published}; {source.holds}" for source in SOURCES.values()]
