"""From what the keeper did at a stop to the entries that record it. Nothing here writes: the ledger does."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from schedules.amounts.ration import given_part, remaining_amount, serving, share_of
from schedules.history import History
from schedules.ledger.entries import ChoreMark, PostedServing, Reason, Served, Skipped, What
from schedules.planning.problem.weights import FULL_DAY
from schedules.room import Feed, Room
from schedules.room.chores import Chore, ChorePlace
from schedules.round.refusal import refusal
from schedules.round.types import Refusal, RoundServing, Stop


def as_served(serving: PostedServing, amount: float | None = None) -> Served:
    """A due serving as given, in the amount due or in another one, its part scaled with the amount."""
    times = 1.0 if amount is None or serving.amount == 0 else amount / serving.amount
    return Served(
        tank=serving.tank,
        feed=serving.feed,
        round=serving.round,
        amount=serving.amount if amount is None else amount,
        unit=serving.unit,
        amount_mg=serving.amount_mg * times,
        part=serving.part * times,
        planned=True,
    )


def finish_stop(stop: Stop) -> tuple[What, ...]:
    """Everything still due at a stop: given as due, or skipped with the rule where it is held back; chores done."""
    given = (_finish(serving) for serving in stop.servings if serving.state == "due")
    return (*given, *(chore_mark(each.chore, each.place) for each in stop.chores if each.state == "due"))


def chore_mark(chore: Chore, place: ChorePlace, because: Reason | None = None) -> ChoreMark:
    """A chore as done at a place, or as left out with a reason."""
    return ChoreMark(chore.id, place.tank, place.rack, because)


def _finish(serving: RoundServing) -> Served | Skipped:
    due = serving.due
    if serving.held is None:
        return as_served(due)
    return Skipped(due.tank, due.feed, due.round, reason_of(serving.held))


def reason_of(refusal: Refusal) -> Reason:
    """What a refusal says, as it is kept in the ledger: its rule and what belongs to it."""
    values: dict[str, str | int | float | None] = {
        "feed": refusal.near or None,
        "on": None if refusal.on is None else refusal.on.isoformat(),
        "by": None if refusal.entry is None else refusal.entry.by,
        "gap": refusal.gap or None,
        "until": None if refusal.until is None else refusal.until.isoformat(),
        "taken": round(refusal.taken, 6) if refusal.rule == "ration" else None,
        "part": round(refusal.part, 6) if refusal.rule == "ration" else None,
    }
    return Reason.of(refusal.rule, **{name: value for name, value in values.items() if value is not None})


def give(
    room: Room,
    history: History,
    day: date,
    tank: str,
    feed: str,
    amount: float | None = None,
    *,
    anyway: bool = False,
) -> Served | Refusal:
    """A serving of a feed to a tank as it will be recorded, or what forbids it.

    `amount` counts the feed's measures; None gives what is due, or a usual serving where nothing is. With `anyway` a
    serving that breaks a rule is recorded as extra, naming the rule.
    """
    made = planned_serving(room, history, day, tank, feed, amount)
    stands = refusal(room, history, tank, feed, day, made.part)
    if stands is None:
        return made
    return replace(made, broke=stands.rule) if anyway else replace(stands, serving=made)


def planned_serving(room: Room, history: History, day: date, tank: str, feed: str, amount: float | None) -> Served:
    """A serving as due on the day where it is due, else worked out from the feed's rules in this tank."""
    due = next((due for due in history.due_in(tank, day) if due.feed == feed), None)
    if due is None:
        return _unplanned(room, history, day, tank, room.feeds[feed], amount)
    if amount is None:
        left = remaining_amount(room, history, due, day).amount
        amount = left.measures if left.mg > 0 else None
    return as_served(due, amount)


def _unplanned(room: Room, history: History, day: date, tank_id: str, feed: Feed, amount: float | None) -> Served:
    tank = room.tanks[tank_id]
    rules = tank.feeds.get(feed.id, feed.rules)
    free = FULL_DAY - given_part(room, history, tank_id, feed.table, day)
    usual = serving(tank, feed, min(rules.most, max(rules.share, free)), day, room=room, history=history)
    measures = (usual.measures or feed.measure.step) if amount is None else amount
    mg = measures * feed.measure.mg
    return Served(
        tank_id,
        feed.id,
        feed.round,
        measures,
        feed.measure.name,
        mg,
        share_of(tank, feed, mg, day, room),
        planned=False,
    )
