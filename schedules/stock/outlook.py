"""What the posted plan will use of a feed, when it runs out, and what to order when."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from math import ceil
from typing import Final

from schedules.room import Feed
from schedules.stock.packs import OpenPack
from schedules.stock.shelf import Shelf

FURTHEST: Final = 730
"""Days after which it does not matter any more when a feed runs out: no pack keeps so long."""
COVERED: Final = 90
"""Days that an order should last. Common practice, no source."""


@dataclass(frozen=True, slots=True)
class Order:
    """What to order: `grams`, and so many `packs` where their size is known, not later than on the day `by`."""

    by: date
    grams: float
    packs: int | None


@dataclass(frozen=True, slots=True)
class Outlook:
    """What becomes of one feed.

    `weeks`: grams that the posted plan gives, by the Monday of the week. `a_day`: grams that leave the shelf on a usual
    day. `out_first`, `out_likely`, `out_last`: the first day for which it may not be enough, at the earliest, likely
    and at the latest; None where that lies further away than two years. `unused` are grams that will not be used before
    the date of the open pack. `shelf` is None where nothing was ever entered; then only the weeks are known.
    """

    feed: str
    weeks: Mapping[date, float]
    a_day: float
    shelf: Shelf | None = None
    pack: OpenPack | None = None
    out_first: date | None = None
    out_likely: date | None = None
    out_last: date | None = None
    order: Order | None = None
    unused: float = 0.0


def outlook_of(
    feed: Feed, today: date, planned: Sequence[float], usual: float, shelf: Shelf | None, pack: OpenPack | None = None
) -> Outlook:
    """What becomes of one feed.

    `planned` are the grams the posted plan still gives, a number for each day from today on; `usual` the grams given on
    a day as a rule, for the days after.
    """
    weeks: dict[date, float] = {}
    for number, grams in enumerate(planned):
        day = today + timedelta(days=number)
        monday = day - timedelta(days=day.weekday())
        weeks[monday] = weeks.get(monday, 0.0) + grams
    if shelf is None:
        return Outlook(feed.id, weeks, usual, pack=pack)
    taken = shelf.taken
    out_first = _out(today, planned, usual, shelf.least, taken.most)
    return Outlook(
        feed=feed.id,
        weeks=weeks,
        a_day=usual * taken.likely,
        shelf=shelf,
        pack=pack,
        out_first=out_first,
        out_likely=_out(today, planned, usual, shelf.likely, taken.likely),
        out_last=_out(today, planned, usual, shelf.most, taken.least),
        order=_order(feed, out_first, usual * taken.most),
        unused=_unused(today, planned, usual, shelf, pack),
    )


def _out(today: date, planned: Sequence[float], usual: float, grams: float, taken: float) -> date | None:
    """The first day for which it is not enough."""
    for number, wanted in enumerate(planned):
        grams -= wanted * taken
        if grams < 0:
            return today + timedelta(days=number)
    if usual <= 0:
        return None
    days = len(planned) + int(grams / (usual * taken))
    return today + timedelta(days=days) if days <= FURTHEST else None


def _order(feed: Feed, out_first: date | None, a_day: float) -> Order | None:
    if out_first is None:
        return None
    grams = a_day * COVERED
    size = feed.packs.grams
    packs = None if size is None else max(1, ceil(grams / size))
    by = out_first - timedelta(days=feed.packs.lead_days)
    return Order(by, grams if size is None or packs is None else packs * size, packs)


def _unused(today: date, planned: Sequence[float], usual: float, shelf: Shelf, pack: OpenPack | None) -> float:
    if pack is None or pack.use_by is None:
        return 0.0
    days = max(0, (pack.use_by - today).days + 1)
    given = sum(planned[:days]) + usual * max(0, days - len(planned))
    return max(0.0, shelf.likely - given * shelf.taken.likely)
