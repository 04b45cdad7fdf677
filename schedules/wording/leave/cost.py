"""What the days away cost the animals, in words with numbers, and what must be ready before leaving."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from schedules.formatting import counted, date_text, days_word, mg_text, minutes_text
from schedules.leave import LeaveCost, LeavePlan, RackDay, TableCost
from schedules.room import Room
from schedules.room.kinds import Table
from schedules.stock import Shelf, Stock
from schedules.wording.entries import feed_name
from schedules.wording.leave.sheet import labels
from schedules.wording.stock.shelf import held_text

WHO: Final[dict[Table, str]] = {
    "fine": "fine feed for the young",
    "fan": "food for the fan feeders",
    "ground": "food on the ground for grown animals",
}
NAMED: Final = 8
"""So many tanks are named at most."""


def cost_lines(room: Room, plan: LeavePlan, cost: LeaveCost) -> Iterator[str]:
    """What the leave plan costs beside the normal plan."""
    yield (
        f"{days_word(cost.days)} away, {counted(cost.visits, 'visit')}: {minutes_text(cost.longest_visit)} at most, "
        f"{minutes_text(cost.minutes)} in all (normal plan: {minutes_text(cost.longest_usual)} at most, "
        f"{minutes_text(cost.usual_minutes)} in all)"
    )
    for table, who in WHO.items():
        found = [each for each in cost.tables if each.table == table]
        if found:
            yield from _table_lines(who, found)
    if cost.undrawn:
        yield (
            f"powder with nothing beside it that draws the adults off: on {sum(cost.undrawn.values())} visits to tanks "
            f"(normal plan: {cost.usual_undrawn}), {_named(list(cost.undrawn))}"
        )
    if cost.left_out:
        yield f"left out for these days: {', '.join(feed_name(room, feed) for feed in cost.left_out)}"
    if not plan.visits:
        yield "nothing is given at all: no tank has a feed that a helper can give"


def _table_lines(who: str, found: Sequence[TableCost]) -> Iterator[str]:
    wanted, fed, usual = (sum(getattr(each, name) for each in found) for name in ("wanted", "fed", "usual"))
    part, usual_part = sum(each.part for each in found), sum(each.usual_part for each in found)
    ration = (
        f"{part / usual_part * 100:.0f} % of what the normal plan gives"
        if usual_part > 0
        else "the normal plan gives none"
    )
    yield (
        f"{who}, {counted(len(found), 'tank')}: on {fed} of {wanted} tank days (normal plan: {usual}), "
        f"{ration}, {mg_text(sum(each.mg for each in found))} "
        f"instead of {mg_text(sum(each.usual_mg for each in found))}"
    )
    waits = [each.longest for each in found if each.longest is not None]
    if waits:
        longest = [each.tank for each in found if each.longest == max(waits)]
        yield f"  longest wait: {days_word(max(waits))} ({_named(longest)})"
    over = [each.tank for each in found if each.allowed is not None and (each.longest or 0) > each.allowed]
    if over:
        allowed = sorted({each.allowed for each in found if each.tank in over and each.allowed is not None})
        yield f"  longer than allowed ({' or '.join(map(days_word, allowed))}): {_named(over)}"
    nothing = [each.tank for each in found if each.wanted and not each.fed]
    if nothing:
        yield f"  nothing at all in {_named(nothing)}: no feed that a helper can give, or none needed so soon"


def _named(tanks: Sequence[str]) -> str:
    shown, more = ", ".join(tanks[:NAMED]), len(tanks) - NAMED
    return f"{shown} and {more} more" if more > 0 else shown


def ready_lines(room: Room, plan: LeavePlan, found: Sequence[RackDay], stock: Stock) -> Iterator[str]:
    """What must be ready before leaving; of each feed how much, and whether the shelf has enough."""
    cups = [cup for each in found for cup in each.cups]
    boxes = len(labels(room, found)) - len(cups)
    if cups:
        yield f"{counted(len(cups), 'cup')} with dry feed, each with its label, sorted by day and rack"
    if boxes:
        yield (
            f"{boxes} small boxes or bags with pieces, each with its label" if boxes > 1 else "1 small box with pieces"
        )
    shelves = {each.feed: each.shelf for each in stock.feeds}
    for feed in room.feeds.values():
        dry = sum(cup.mass_mg for cup in cups if cup.feed == feed.id)
        dry += sum(each.pieces().get(feed.id, 0.0) for each in found)
        if dry:
            yield f"{feed.name}: {mg_text(dry)} in all, {enough_text(dry / 1000, shelves.get(feed.id))}"
    vessels = {f"{dose.vessel.ml:g} mL" for cup in cups for dose in cup.doses}
    if vessels:
        yield f"syringes or measuring cups of {', '.join(sorted(vessels, key=lambda text: float(text.split()[0])))}"
    yield "the sheets printed, a pen, and the keepers' telephone numbers on them"
    yield "all other feeds, salts and test kits locked away"
    yield f"tanks topped up and looked at on {date_text(plan.first)} at the latest, by yourself"


def enough_text(grams: float, shelf: Shelf | None) -> str:
    """Whether the shelf has so many grams: surely, perhaps or not."""
    if shelf is None:
        return "not weighed: look whether there is enough"
    if shelf.least >= grams:
        return f"enough on the shelf: {held_text(shelf)}"
    if shelf.most >= grams:
        return f"may not be enough on the shelf, weigh it: {held_text(shelf)}"
    return f"NOT ENOUGH on the shelf: {held_text(shelf)}"
