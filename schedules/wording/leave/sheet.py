"""The helper's sheet as texts: a page for each rack with its tanks by visits, and the labels of the cups."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import Final

from schedules.amounts.mixing.types import Bottle
from schedules.formatting import amount_text, date_text, measurable, mg_text, number_text
from schedules.leave.cups import RackDay
from schedules.ledger import PostedServing
from schedules.room import Rack, Room
from schedules.wording.doses import taken
from schedules.wording.entries import feed_name
from schedules.wording.leave.advice import rack_notes

SHORT_NAME: Final = 18


@dataclass(frozen=True, slots=True)
class Line:
    """One serving on the sheet: `1½` `Plain pellets`, `5 mL` `evening: Shrimplet dust` on a day of several rounds."""

    amount: str
    feed: str


@dataclass(frozen=True, slots=True)
class SheetRow:
    """One tank: for each visit of the page what it gets, nothing where it gets nothing."""

    tank: str
    name: str
    cells: tuple[tuple[Line, ...], ...]


@dataclass(frozen=True, slots=True)
class RackSheet:
    """One rack on some visits: its tanks in walking order, and what else to mind there."""

    rack: str
    visits: tuple[date, ...]
    rows: tuple[SheetRow, ...]
    notes: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Label:
    """The label of a cup, or of a box of pieces: where it belongs, when, what is in it, what to do with it.

    `round` is set where the day has several; `strength` says how much is in a millilitre of a cup once it is full.
    """

    rack: str
    day: date
    feed: str
    contents: str
    action: str
    doses: tuple[str, ...]
    round: str = ""
    strength: str = ""


def rack_sheets(room: Room, found: Sequence[RackDay], most_visits: int) -> tuple[RackSheet, ...]:
    """The pages of all racks with a visit, each with at most so many visits."""
    pages = []
    for rack in room.racks:
        days = [each for each in found if each.rack.id == rack.id]
        pages += [_page(room, rack, days[at : at + most_visits]) for at in range(0, len(days), most_visits)]
    return tuple(pages)


def _page(room: Room, rack: Rack, days: Sequence[RackDay]) -> RackSheet:
    tanks = [tank for tank in room.walk if tank in rack.tanks]
    rows = tuple(
        SheetRow(tank, "" if room.tanks[tank].name == tank else room.tanks[tank].name, _cells(room, tank, days))
        for tank in tanks
    )
    visits = tuple(each.day for each in days)
    fed = tuple(row for row in rows if any(row.cells))
    notes = [*rack_notes(room, rack.tanks)]
    if len(fed) < len(rows):
        notes.append(f"Give nothing in: {', '.join(row.tank for row in rows if not any(row.cells))}.")
    return RackSheet(rack.name, visits, fed, tuple(notes))


def _cells(room: Room, tank: str, days: Sequence[RackDay]) -> tuple[tuple[Line, ...], ...]:
    return tuple(tuple(_line(room, each, due) for due in each.due if due.tank == tank) for each in days)


def _line(room: Room, found: RackDay, due: PostedServing) -> Line:
    """A serving; the measure is left out where the feed's name says it."""
    amount, name = taken(found.doses, due).amount, short_feed(room, due.feed)
    if due.unit.lower() in name.lower():
        amount = amount.removesuffix(f" {due.unit}").removesuffix(f" {due.unit}s")
    return Line(amount, f"{due.round}: {name}" if found.several else name)


def short_feed(room: Room, feed: str) -> str:
    """A feed's name without what stands in brackets, cut to some characters."""
    name = feed_name(room, feed).split(" (")[0]
    return name if len(name) <= SHORT_NAME else f"{name[: SHORT_NAME - 1].rstrip()}…"


def labels(room: Room, found: Sequence[RackDay]) -> tuple[Label, ...]:
    """The labels of everything that is prepared, by day and rack."""
    ordered = sorted(found, key=lambda each: each.day)
    return tuple(label for each in ordered for label in (*_cups(room, each), *_boxes(room, each)))


def _cups(room: Room, found: RackDay) -> tuple[Label, ...]:
    return tuple(_cup(room, found, cup) for cup in found.cups)


def _cup(room: Room, found: RackDay, cup: Bottle) -> Label:
    doses = tuple(
        f"{dose.tank} {'' if dose.times == 1 else f'{dose.times} × '}{number_text(dose.ml)} mL" for dose in cup.doses
    )
    water = f"fill up to {number_text(cup.water_ml)} mL, shake"
    walk = room.feeds[cup.feed].round if found.several else ""
    strength = f"{number_text(cup.mg_per_ml)} mg/mL"
    return Label(
        found.rack.name, found.day, feed_name(room, cup.feed), _in_cup(room, cup), water, doses, walk, strength
    )


def contents_text(room: Room, cup: Bottle) -> str:
    """What is put into a cup dry."""
    if cup.measures is None:
        return mg_text(cup.mass_mg)
    return amount_text(cup.measures, room.feeds[cup.feed].measure.name)


def _in_cup(room: Room, cup: Bottle) -> str:
    """What is put into a cup dry; of measures their mass too."""
    text = contents_text(room, cup)
    return text if cup.measures is None else f"{text} ({mg_text(cup.mass_mg)})"


def _boxes(room: Room, found: RackDay) -> tuple[Label, ...]:
    """A box for each feed that is given by the piece or the measure."""
    made = []
    for feed in found.pieces():
        due = [each for each in found.due if each.feed == feed and found.doses.of(each) is None]
        doses = tuple(f"{each.tank} {taken(found.doses, each).amount}" for each in due)
        count, mg = sum(each.amount for each in due), sum(each.amount_mg for each in due)
        total = f"{amount_text(count, due[0].unit)} ({mg_text(mg)})" if measurable(count) else mg_text(mg)
        walk = due[0].round if found.several else ""
        made.append(Label(found.rack.name, found.day, feed_name(room, feed), total, "give dry, as it is", doses, walk))
    return tuple(made)


def label_head(label: Label) -> str:
    """Where and when a label belongs."""
    return " · ".join(part for part in (date_text(label.day), label.round, label.rack) if part)
