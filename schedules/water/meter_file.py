"""Reading a meter's CSV file: a header that names tank, date, time and quantities, then one line for each reading.

Comma, semicolon or tab between the cells; a decimal comma where the cells are not separated by one; units in the
header, else those of the room. Every faulty line is named; a file with one fault gives no readings.
"""

from __future__ import annotations

import csv
import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date, datetime, time
from typing import Final

from schedules.room import Room, Units
from schedules.room.units import celsius_from_fahrenheit, degrees_from_mg_per_litre
from schedules.room.water.quantities import QUANTITIES, Quantity, from_keeper

NAMES: Final[Mapping[str, Quantity]] = {
    "temperature": "temperature",
    "temp": "temperature",
    "conductivity": "conductivity",
    "ec": "conductivity",
    "tds": "tds",
    "ph": "ph",
    "gh": "gh",
    "kh": "kh",
    "ammonia": "ammonia",
    "tan": "ammonia",
    "nitrite": "nitrite",
    "no2": "nitrite",
    "nitrate": "nitrate",
    "no3": "nitrate",
}
_HEADER: Final = re.compile(r"\s*([A-Za-z0-9_ ]+?)\s*(?:[(\[]\s*([^)\]]*?)\s*[)\]])?\s*")
_PLACE: Final = ("tank", "date", "time")
MOST_LINES: Final = 100_000

Convert = Callable[[float], float]


def _same(value: float) -> float:
    return value


_UNITS: Final[Mapping[Quantity, Mapping[str, Convert]]] = {
    "temperature": {"°c": _same, "c": _same, "°f": celsius_from_fahrenheit, "f": celsius_from_fahrenheit},
    "conductivity": {"µs/cm": _same, "μs/cm": _same, "us/cm": _same, "ms/cm": lambda value: value * 1000},
    "tds": {"mg/l": _same, "ppm": _same, "g/l": lambda value: value * 1000},
    "ph": {},
    "gh": {"°dh": _same, "dh": _same, "mg/l": degrees_from_mg_per_litre, "ppm": degrees_from_mg_per_litre},
    "kh": {"°dh": _same, "dh": _same, "mg/l": degrees_from_mg_per_litre, "ppm": degrees_from_mg_per_litre},
    "ammonia": {"mg/l": _same, "ppm": _same},
    "nitrite": {"mg/l": _same, "ppm": _same},
    "nitrate": {"mg/l": _same, "ppm": _same},
}
"""By quantity the units that a header may name, and how to get from them to the domain's."""


class MeterFileFaults(Exception):
    """What is wrong with the file, one line of text for each fault."""

    def __init__(self, faults: tuple[str, ...]) -> None:
        super().__init__("\n".join(faults))
        self.faults = faults


@dataclass(frozen=True, slots=True)
class MeterReading:
    """One line of the file: what was read in a tank on a day, in the domain's units, conductivity as it was shown."""

    line: int
    tank: str
    day: date
    time: str | None
    values: Mapping[Quantity, float]


@dataclass(frozen=True, slots=True)
class _Column:
    name: str
    quantity: Quantity | None = None
    convert: Convert = _same


def readings_of(text: str, room: Room, today: date) -> tuple[MeterReading, ...]:
    """The readings of a file's text, in its order. Raises `MeterFileFaults` with every fault there is."""
    lines = text.removeprefix("\ufeff").splitlines()
    separator = _separator(lines[0] if lines else "")
    faults: list[str] = []
    rows = _rows(lines[: MOST_LINES + 1], separator, faults)
    if len(lines) > MOST_LINES:
        faults.append(f"line {MOST_LINES + 1}: found one line more, allowed are at most {MOST_LINES}")
    columns = _columns(rows[0] if rows else [], room.units, faults)
    if faults:
        raise MeterFileFaults(tuple(faults))
    found = [
        reading
        for number, row in enumerate(rows[1:], start=2)
        if any(cell.strip() for cell in row)
        and (reading := _reading(number, row, columns, room, today, separator, faults)) is not None
    ]
    if faults:
        raise MeterFileFaults(tuple(faults))
    return tuple(found)


def _rows(lines: list[str], separator: str, faults: list[str]) -> list[list[str]]:
    """The cells of each line; a line is one reading, so no cell reaches over its end."""
    rows: list[list[str]] = []
    for number, line in enumerate(lines, start=1):
        try:
            rows.append(next(csv.reader([line], delimiter=separator, strict=True), []))
        except csv.Error as error:
            faults.append(
                f"line {number}: found {error}, allowed are cells with at most one pair of quotes around each"
            )
            rows.append([])
    return rows


def _separator(header: str) -> str:
    return max((";", "\t", ","), key=header.count)


def _columns(header: list[str], units: Units, faults: list[str]) -> list[_Column]:
    columns = [column for cell in header if (column := _column(cell, units, faults)) is not None]
    names = [column.name for column in columns]
    faults += [f'line 1: found "{name}" twice, allowed is once' for name in sorted({*names}) if names.count(name) > 1]
    for name in ("tank", "date"):
        if name not in names and not faults:
            listed = ", ".join(f'"{cell}"' for cell in header) or "nothing"
            faults.append(f"line 1: found {listed}, allowed is a header with a column named {name}")
    if not faults and not any(column.quantity for column in columns):
        faults.append(f"line 1: found no quantity, allowed are {', '.join(QUANTITIES)}, each with its unit in brackets")
    return columns


def _column(cell: str, units: Units, faults: list[str]) -> _Column | None:
    match = _HEADER.fullmatch(cell)
    name = match[1].strip().casefold() if match else ""
    unit = match[2] if match else None
    if name in _PLACE and unit is None:
        return _Column(name)
    quantity = NAMES.get(name)
    if quantity is None:
        faults.append(f'line 1: found "{cell.strip()}", allowed are {", ".join((*_PLACE, *QUANTITIES))}')
        return None
    if not unit:
        return _Column(quantity, quantity, lambda value: from_keeper(quantity, value, units))
    known = _UNITS[quantity]
    if unit.casefold() not in known:
        faults.append(f'line 1: {quantity}: found the unit "{unit}", allowed is {" or ".join(known) or "no unit"}')
        return None
    return _Column(quantity, quantity, known[unit.casefold()])


def _reading(
    number: int, row: list[str], columns: list[_Column], room: Room, today: date, separator: str, faults: list[str]
) -> MeterReading | None:
    before = len(faults)
    if len(row) != len(columns):
        faults.append(f"line {number}: found {len(row)} cells, allowed are {len(columns)}, as in the header")
        return None
    cells = {column.name: cell.strip() for column, cell in zip(columns, row, strict=True)}
    tank = cells["tank"]
    if tank not in room.tanks:
        faults.append(f'line {number}: tank: found "{tank}", allowed is a tank of the room: {_some(room.tanks)}')
    day, clock = _moment(number, cells, today, faults)
    values = dict(_values(number, columns, cells, separator, faults))
    if not values and len(faults) == before:
        faults.append(f"line {number}: found no value, allowed is at least one")
    if len(faults) > before or day is None:
        return None
    return MeterReading(number, tank, day, clock, values)


def _moment(number: int, cells: Mapping[str, str], today: date, faults: list[str]) -> tuple[date | None, str | None]:
    text, clock = cells["date"], cells.get("time") or None
    day_part, _, time_part = text.replace("T", " ").partition(" ")
    clock = clock or time_part.strip() or None
    day = _day(day_part)
    if day is None:
        faults.append(f'line {number}: date: found "{text}", allowed is YYYY-MM-DD or DD.MM.YYYY')
    elif day > today:
        faults.append(f'line {number}: date: found "{text}", allowed is a day up to today, {today.isoformat()}')
    if clock is None:
        return day, None
    try:
        return day, time.fromisoformat(clock if len(clock.partition(":")[0]) > 1 else f"0{clock}").strftime("%H:%M")
    except ValueError:
        faults.append(f'line {number}: time: found "{clock}", allowed is HH:MM')
        return day, None


def _day(text: str) -> date | None:
    for form in ("%Y-%m-%d", "%d.%m.%Y"):
        try:
            found = datetime.strptime(text, form).date()  # noqa: DTZ007 - a day of the room's calendar has no zone
        except ValueError:
            continue
        return found if 1970 <= found.year <= 2200 else None
    return None


def _values(
    number: int, columns: list[_Column], cells: Mapping[str, str], separator: str, faults: list[str]
) -> Iterator[tuple[Quantity, float]]:
    for column in columns:
        if column.quantity is None or not (cell := cells[column.name]):
            continue
        form = QUANTITIES[column.quantity]
        try:
            typed = float(cell.replace(",", "."))
        except ValueError:
            point = "" if separator == "," else " or a comma"
            faults.append(f'line {number}: {column.name}: found "{cell}", allowed is a number with a point{point}')
            continue
        value = column.convert(typed)
        if form.least <= value <= form.most:
            yield column.quantity, value
        else:
            limits = f"a {form.name} from {form.least:g} to {form.most:g} {form.unit}".rstrip()
            faults.append(f'line {number}: {column.name}: found "{cell}", allowed is {limits}')


def _some(names: Mapping[str, object]) -> str:
    listed = list(names)
    return ", ".join(listed[:8]) + ("" if len(listed) <= 8 else f" … ({len(listed)} in all)")
