"""What is left of a table's day for a serving to come, once more was given than planned or something lies there."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from schedules.amounts.ration.daily import FULL_DAY, TOLERANCE
from schedules.amounts.ration.hand import dose_class, dry_mg, smallest_mg
from schedules.amounts.ration.hold import hold_on
from schedules.amounts.ration.serving import Amount, by_volume
from schedules.history import History
from schedules.ledger.entries import PostedServing, Reason, Served, Skipped
from schedules.room import Feed, Room
from schedules.room.kinds import Table


@dataclass(frozen=True, slots=True)
class Remaining:
    """What may still be given of a due serving, and why it is less than was due, None where it is not.

    `took` is the part of the table's ration that each feed already took today, in the order given.
    """

    amount: Amount
    reason: Reason | None
    took: tuple[tuple[str, float], ...] = ()


def given_part(room: Room, history: History, tank: str, table: Table, day: date) -> float:
    """The part of a table's ration that a tank was given on a day; feeds that left the stock count everywhere."""
    return sum(what.part for what in _given(room, history, tank, table, day))


def remaining_amount(room: Room, history: History, due: PostedServing, day: date) -> Remaining:
    """What is left for a due serving on a day, never more than was due.

    What the tank was given at the table that day counts by its part, planned or not. Where less is left than everything
    still due there asks for, all of that shrinks alike.
    """
    feed = room.feeds.get(due.feed)
    posted = Amount(due.amount, due.unit, due.amount_mg, due.part)
    if feed is None or due.tank not in room.tanks:
        return Remaining(posted, None)
    hold = hold_on(room, history, due.tank, feed, day)
    if hold is not None:
        reason = Reason.of("held", feed=hold.feed)
        return Remaining(Amount(0.0, due.unit, 0.0, 0.0, note=reason), reason)
    given = _given(room, history, due.tank, feed.table, day)
    left = max(0.0, FULL_DAY - sum(what.part for what in given))
    asked = sum(each.part for each in still_due(history, due.tank, day) if _at(room, each.feed, feed.table)) or due.part
    if due.part <= 0 or asked <= left + TOLERANCE:
        return Remaining(posted, None)
    amount = _shrunk(room, feed, due, min(1.0, left / asked))
    return Remaining(amount, Reason("took"), _took(given))


def still_due(history: History, tank: str, day: date) -> tuple[PostedServing, ...]:
    """What was posted for a tank on a day and is neither given nor skipped."""
    done = {
        (entry.what.feed, entry.what.round)
        for entry in history.about(tank, day)
        if isinstance(entry.what, Served | Skipped)
    }
    return tuple(due for due in history.due_in(tank, day) if (due.feed, due.round) not in done)


def _shrunk(room: Room, feed: Feed, due: PostedServing, by: float) -> Amount:
    """A due serving made smaller: nothing where less than half of the smallest part is left."""
    wanted, tools = due.amount_mg * by, room.tools
    tank = room.tanks[due.tank]
    mixed = by_volume(feed, tank.feeds.get(feed.id, feed.rules), tools)
    if mixed:
        mg = dose_class(wanted, tools.doses_ml, wanted)
    elif wanted * 2 < min(smallest_mg(feed), due.amount_mg):
        mg = 0.0
    else:
        mg = min(dry_mg(feed, wanted, tools), due.amount_mg)
    part = due.part * min(by, mg / due.amount_mg) if due.amount_mg > 0 else 0.0
    return Amount(mg / feed.measure.mg, due.unit, mg, part, mixed)


def _given(room: Room, history: History, tank: str, table: Table, day: date) -> tuple[Served, ...]:
    return tuple(what for _, what in history.served_on(tank, day) if _at(room, what.feed, table))


def _at(room: Room, feed: str, table: Table) -> bool:
    return feed not in room.feeds or room.feeds[feed].table == table


def _took(given: tuple[Served, ...]) -> tuple[tuple[str, float], ...]:
    takes: dict[str, float] = {}
    for what in given:
        takes[what.feed] = takes.get(what.feed, 0.0) + what.part
    return tuple(takes.items())
