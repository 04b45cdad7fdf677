"""The shelf of the weekly report in words: feed by feed, with a column for each week."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from typing import Final

from schedules.formatting import date_text, grams_text
from schedules.review.report import Week
from schedules.review.report.shelf import ShelfWeek
from schedules.room import Room
from schedules.wording.stock.shelf import held_text, order_text, out_text

NONE: Final = "–"


def shelf_rows(room: Room, weeks: Sequence[Week]) -> tuple[tuple[str, ...], ...]:
    """Of each feed what was given, came in and was opened, and how it stood when the week ended."""
    return tuple(row for feed in room.feeds.values() for row in _rows(feed.id, feed.name, weeks))


def _rows(feed: str, name: str, weeks: Sequence[Week]) -> Iterator[tuple[str, ...]]:
    rows: tuple[tuple[str, Callable[[Week, ShelfWeek], str]], ...] = (
        (f"{name}, given", lambda _, each: grams_text(each.given)),
        ("  came in", lambda _, each: grams_text(each.came) if each.came else NONE),
        ("  opened", lambda _, each: _opened(each)),
        ("  there at the end", lambda _, each: NONE if each.outlook.shelf is None else held_text(each.outlook.shelf)),
        ("  runs out", lambda week, each: _out(week, each)),
        ("  to order", lambda week, each: _order(week, each)),
    )
    for label, text in rows:
        cells = [_cell(feed, week, text) for week in weeks]
        if any(cell != NONE for cell in cells):
            yield (label, *cells)


def _cell(feed: str, week: Week, text: Callable[[Week, ShelfWeek], str]) -> str:
    found = next((each for each in week.stock if each.feed == feed), None)
    return NONE if found is None else text(week, found)


def _opened(each: ShelfWeek) -> str:
    packs = (f"{date_text(day)}{'' if lot is None else f', lot {lot}'}" for day, lot in each.opened)
    return "; ".join(packs) or NONE


def _out(week: Week, each: ShelfWeek) -> str:
    return NONE if each.outlook.shelf is None else out_text(each.outlook, week.last).removeprefix("runs out ")


def _order(week: Week, each: ShelfWeek) -> str:
    order = each.outlook.order
    return NONE if order is None else order_text(order, week.last).removeprefix("order ")
