"""The weekly report in words: sections of rows, with a column for each week."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from typing import Final

from schedules.formatting import counted, date_text, mg_text, minutes_text, number_text
from schedules.review.flags.types import RANK
from schedules.review.report import Week
from schedules.review.report.animals import Animals
from schedules.review.report.delivered import TABLES, Delivered
from schedules.room import Room
from schedules.room.kinds import Table
from schedules.room.units import mg_per_litre_from_degrees
from schedules.room.water.quantities import QUANTITIES, Quantity
from schedules.wording.entries import reason_text
from schedules.wording.glossary import FLAG_NAMES
from schedules.wording.report.chores import chore_rows
from schedules.wording.report.shelf import shelf_rows

NONE: Final = "–"
TABLE_TEXT: Final[dict[Table, str]] = {"fine": "fine feed", "ground": "on the ground", "fan": "for the fans"}


@dataclass(frozen=True, slots=True)
class Section:
    """A part of the report: its title, and rows of a label and a text for each week."""

    title: str
    rows: tuple[tuple[str, ...], ...]


def heads(weeks: Sequence[Week]) -> tuple[str, ...]:
    """What stands above the columns."""
    return tuple(
        f"{date_text(week.monday)} to {date_text(week.sunday)}"
        + ("" if week.days == 7 else f", {week.days} days so far")
        for week in weeks
    )


def sections(room: Room, weeks: Sequence[Week]) -> tuple[Section, ...]:
    """The whole report; sections of which no week has anything to say are left out."""
    found = (
        Section("Rounds", _rounds(weeks)),
        Section("Left out, and why", _skipped(weeks)),
        Section("Feed", tuple(row for table in TABLES for row in _table(table, weeks))),
        Section("Flags", _flags(weeks)),
        Section("Water", tuple(row for quantity in QUANTITIES for row in _water(room, quantity, weeks))),
        Section("Animals", _animals(weeks)),
        Section("Chores", chore_rows(room, weeks)),
        Section("Shelf", shelf_rows(room, weeks)),
    )
    return tuple(section for section in found if section.rows)


def _row(label: str, weeks: Sequence[Week], text: Callable[[Week], str]) -> tuple[str, ...]:
    return (label, *(text(week) for week in weeks))


def _rounds(weeks: Sequence[Week]) -> tuple[tuple[str, ...], ...]:
    return (
        _row("rounds kept", weeks, lambda week: f"{sum(each.kept for each in week.rounds)} of {len(week.rounds)}"),
        _row("servings given", weeks, lambda week: f"{_sum(week, 'given')} of {_sum(week, 'due')} due"),
        _row("left out on purpose", weeks, lambda week: str(_sum(week, "skipped"))),
        _row("missed", weeks, lambda week: str(_sum(week, "missed"))),
        _row("  in rounds nobody walked", weeks, _unwalked),
        _row("days with a helper", weeks, lambda week: str(len({each.day for each in week.rounds if each.away}))),
        _row("at the racks", weeks, lambda week: minutes_text(week.minutes)),
    )


def _sum(week: Week, name: str) -> int:
    total: int = sum(getattr(each, name) for each in week.rounds)
    return total


def _unwalked(week: Week) -> str:
    found = [each for each in week.rounds if not each.walked]
    days = ", ".join(dict.fromkeys(date_text(each.day) for each in found))
    return f"{sum(each.missed for each in found)} ({days})" if found else "0"


def _skipped(weeks: Sequence[Week]) -> tuple[tuple[str, ...], ...]:
    reasons = dict.fromkeys(reason for week in weeks for reason in week.skipped)
    return tuple((reason_text(each), *(str(week.skipped.get(each, 0)) for week in weeks)) for each in reasons)


def _table(table: Table, weeks: Sequence[Week]) -> Iterable[tuple[str, ...]]:
    found = {week.monday: next(each for each in week.delivered if each.table == table) for week in weeks}
    if not any(each.planned_mg or each.given_mg for each in found.values()):
        return
    name = TABLE_TEXT[table]
    yield _row(f"{name}, given", weeks, lambda week: _given(found[week.monday]))
    yield _row("  of the ration of those days", weeks, lambda week: _of_ration(found[week.monday]))


def _given(each: Delivered) -> str:
    return f"{mg_text(each.given_mg)} of {mg_text(each.planned_mg)} planned"


def _of_ration(each: Delivered) -> str:
    if each.ration_mg <= 0:
        return NONE
    percent = f"{each.given_mg / each.ration_mg * 100:.0f} %"
    return f"{percent} of {mg_text(each.ration_mg)}, {counted(each.tank_days, 'tank day')}"


def _flags(weeks: Sequence[Week]) -> tuple[tuple[str, ...], ...]:
    found = {flag for week in weeks for flag in week.flags}
    ordered = sorted(found, key=lambda flag: (RANK[flag[1]], FLAG_NAMES[flag[0]]))
    return tuple(
        (f"{FLAG_NAMES[kind]} ({severity})", *(str(week.flags.get((kind, severity), 0)) for week in weeks))
        for kind, severity in ordered
    )


def _water(room: Room, quantity: Quantity, weeks: Sequence[Week]) -> Iterable[tuple[str, ...]]:
    form = QUANTITIES[quantity]

    def text(week: Week) -> str:
        found = next((each for each in week.water if each.quantity == quantity), None)
        if found is None:
            return NONE
        read = f"{counted(found.readings, 'reading')} in {counted(found.tanks, 'tank')}"
        if found.widest is None or found.tank is None:
            return read
        return f"{read}, at most {number_text(_in_units(room, quantity, found.widest))} apart ({found.tank})"

    if any(each.quantity == quantity for week in weeks for each in week.water):
        yield _row(f"{form.name} {_unit(room, quantity)}".rstrip(), weeks, text)


def _unit(room: Room, quantity: Quantity) -> str:
    if quantity == "temperature" and room.units.us:
        return "°F"
    if quantity in ("gh", "kh") and room.units.hardness_mg_per_litre:
        return "mg/L"
    return QUANTITIES[quantity].unit


def _in_units(room: Room, quantity: Quantity, difference: float) -> float:
    """A difference in the keeper's units: a degree of Fahrenheit is 5/9 of one of Celsius, whatever their zeros."""
    if quantity == "temperature" and room.units.us:
        return difference * 9 / 5
    if quantity in ("gh", "kh") and room.units.hardness_mg_per_litre:
        return mg_per_litre_from_degrees(difference)
    return difference


def _animals(weeks: Sequence[Week]) -> tuple[tuple[str, ...], ...]:
    if all(week.animals == Animals((), 0, 0, ()) for week in weeks):
        return ()
    return (
        _row("hatches", weeks, _hatches),
        _row("hatches counted", weeks, _counted),
        _row("deaths seen", weeks, lambda week: str(week.animals.dead)),
        _row("not found when counted", weeks, lambda week: str(week.animals.missing)),
    )


def _hatches(week: Week) -> str:
    return ", ".join(f"{tank}: {heads} on {date_text(day)}" for tank, day, heads in week.animals.hatches) or "0"


def _counted(week: Week) -> str:
    found = (f"{each.tank}: {each.heads} of {each.born} at {each.age} days" for each in week.animals.counted)
    return ", ".join(found) or "0"
