"""What is left of a day for a serving still to come, once more was given than planned or something was left lying."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from schedules.amounts.ration.hold import hold_on
from schedules.amounts.ration.measurable import measured, mixed_mg
from schedules.amounts.ration.serving import Amount, can_mix
from schedules.formatting import number_text
from schedules.history import History
from schedules.ledger.entries import PostedServing, Served, Skipped
from schedules.room import Room
from schedules.rules import FULL_DAY, SHARE_TOLERANCE


@dataclass(frozen=True, slots=True)
class Remaining:
    """What may still be given of a due serving, and in one short sentence why it is less than was due (else empty)."""

    amount: Amount
    sentence: str


def remaining_amount(room: Room, history: History, due: PostedServing, day: date) -> Remaining:
    """What is left for a due serving on a day, never more than was due.

    What the tank was given that day counts by its share, planned or not. Where less is left than everything still due
    in this tank asks for, all of that shrinks alike.
    """
    feed = room.feeds.get(due.feed)
    posted = Amount(due.amount, due.unit, due.amount_mg, due.part)
    if feed is None or due.tank not in room.tanks:
        return Remaining(posted, "")
    hold = hold_on(room, history, due.tank, feed, day)
    if hold is not None:
        sentence = f"nothing: most of {room.feeds[hold.feed].name} was left"
        return Remaining(Amount(0.0, due.unit, 0.0, 0.0, note=sentence), sentence)
    given = [what for _, what in history.served_on(due.tank, day)]
    left = max(0.0, FULL_DAY - sum(what.part for what in given))
    asked = sum(other.part for other in still_due(history, due.tank, day)) or due.part
    if due.part <= 0 or asked <= left + SHARE_TOLERANCE:
        return Remaining(posted, "")
    mg = due.amount_mg * min(1.0, left / asked)
    mixed = due.method in ("premixed", "flow") and can_mix(room)
    mg = mixed_mg(mg) if mixed else measured(mg, feed.measure) * feed.measure.mg
    share = due.part * mg / due.amount_mg if due.amount_mg > 0 else 0.0
    amount = Amount(mg / feed.measure.mg, due.unit, mg, share, mixed)
    return Remaining(amount, _sentence(room, amount, given))


def still_due(history: History, tank: str, day: date) -> tuple[PostedServing, ...]:
    """What was posted for a tank on a day and is neither given nor skipped."""
    done = {
        (entry.what.feed, entry.what.round)
        for entry in history.about(tank, day)
        if isinstance(entry.what, Served | Skipped)
    }
    return tuple(due for due in history.due_in(tank, day) if (due.feed, due.round) not in done)


def _sentence(room: Room, amount: Amount, given: Iterable[Served]) -> str:
    takes: dict[str, float] = {}
    for what in given:
        takes[what.feed] = takes.get(what.feed, 0.0) + what.part
    names = " and ".join(
        f"{room.feeds[feed].name if feed in room.feeds else feed} already took {number_text(share)}"
        for feed, share in takes.items()
    )
    return f"{amount.text if amount.mg > 0 else 'nothing'}: {names} of today"
