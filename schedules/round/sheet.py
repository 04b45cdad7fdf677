"""From what was posted and what was marked to the sheet of one round."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import replace
from datetime import date, datetime

from schedules.amounts.ration import DrawOff, draw_off, remaining_amount
from schedules.chores import due_at
from schedules.history import History
from schedules.ledger.entries import Entry, PostedServing, Served, Skipped
from schedules.room import Room
from schedules.room.chores import ChorePlace
from schedules.room.kinds import Table
from schedules.round.chore_stops import chores_of, walk_of
from schedules.round.refusal import refusal
from schedules.round.types import Refusal, RoundServing, RoundSheet, State, Stop, Why
from schedules.round.why import why_due


def current_round(room: Room, now: datetime) -> str:
    """The id of the round to walk at an instant: the last one whose time has come, else the day's first.

    After midnight that is still the last round of the day before, as long as this one keeps its date.
    """
    here = now.astimezone(room.zone)
    if room.day(now) != here.date():
        return room.rounds[-1].id
    begun = [walk for walk in room.rounds if walk.at <= here.time()]
    return (begun[-1] if begun else room.rounds[0]).id


def round_sheet(room: Room, history: History, today: date, day: date, round_id: str) -> RoundSheet:
    """The sheet of a round of a day: the posted servings in walking order, and what was given without being due.

    `today` is the day being walked: what is open on an earlier one was missed. A round that is walked past midnight
    passes the day it was opened on.
    """
    stops = (stop_at(room, history, today, day, round_id, where) for where in walk_of(room))
    return RoundSheet(day, round_id, tuple(stop for stop in stops if stop), history.says(day))


def stop_at(room: Room, history: History, today: date, day: date, round_id: str, where: Stop) -> Stop | None:
    """A stop with what is due and done there in a round, None where that is nothing. `where` is the stop without it."""
    if where.tank is not None:
        return stop_of(room, history, today, day, round_id, where.tank)
    chores = chores_of(room, history, today, day, round_id, where)
    return replace(where, chores=chores) if chores else None


def stop_of(room: Room, history: History, today: date, day: date, round_id: str, tank: str) -> Stop | None:
    """The stop at a tank in a round, None where nothing is due there, and nothing was given or done."""
    due = tuple(each for each in history.due_in(tank, day) if each.round == round_id)
    servings = stop_servings(room, history, today, day, round_id, tank, due)
    chores = due_at(room, history, today, day, ChorePlace(tank=tank), round_id)
    if not servings and not chores:
        return None
    return Stop(tank, servings, _draw_off(room, tank, servings, day), chores)


def _draw_off(room: Room, tank: str, servings: tuple[RoundServing, ...], day: date) -> DrawOff | None:
    """How adults are drawn off for the powder still to be given; None once something that draws was given."""
    given = (room.feeds.get(each.due.feed) for each in servings if each.state == "given")
    if any(feed is not None and feed.draws for feed in given):
        return None
    still = (each.due for each in servings if each.state == "due" and each.held is None)
    return draw_off(room, tank, still, day)


def _drawing_first(room: Room, tank: str, due: tuple[PostedServing, ...], day: date) -> tuple[PostedServing, ...]:
    """What is due in the order in which it is given: what draws the adults from a powder goes in before it."""
    found = draw_off(room, tank, due, day)
    if found is None or found.feed is None:
        return due
    return tuple(sorted(due, key=lambda each: each.feed != found.feed))


def stop_servings(
    room: Room,
    history: History,
    today: date,
    day: date,
    round_id: str,
    tank: str,
    due: tuple[PostedServing, ...],
) -> tuple[RoundServing, ...]:
    """The servings of one stop: what is due there, then what was given there in this round without being due."""
    about = [entry for entry in history.about(tank, day) if isinstance(entry.what, Served | Skipped)]
    settled = {entry.what.feed: entry for entry in about if isinstance(entry.what, Served | Skipped)}
    servings = []
    beside: dict[Table, float] = defaultdict(float)
    for serving in _drawing_first(room, tank, due, day):
        marked = settled.get(serving.feed)
        why = why_due(room, history, tank, serving.feed, day, due)
        made = _round_serving(room, today, day, serving, marked, why)
        if marked is None and day == today and serving.feed in room.feeds:
            table = room.feeds[serving.feed].table
            made = as_things_stand(room, history, day, made, beside[table])
            beside[table] += 0.0 if made.held else made.due.part
        servings.append(made)
    known = {serving.feed for serving in due}
    for entry in about:
        what = entry.what
        if isinstance(what, Served) and what.round == round_id and what.feed not in known:
            servings.append(_unplanned(room, today, day, entry, what))
    return tuple(servings)


def as_things_stand(
    room: Room, history: History, day: date, serving: RoundServing, beside: float = 0.0
) -> RoundServing:
    """An open serving after what the tank got meanwhile: less of it, or held back with the rule that says so."""
    due = serving.due
    left = remaining_amount(room, history, due, day)
    held = refusal(room, history, due.tank, due.feed, day, left.amount.part, beside=beside)
    if held is None and left.amount.mg <= 0 < due.amount_mg:
        held = Refusal("ration", due.feed, day, taken=sum(part for _, part in left.took))
    elif held is not None:
        held = replace(held, serving=due)
    if held is not None or left.reason is None:
        return replace(serving, held=held)
    now = replace(due, amount=left.amount.measures, amount_mg=left.amount.mg, part=left.amount.part)
    return replace(serving, due=now, shrunk=left)


def _state(today: date, day: date, marked: Entry | None) -> State:
    if marked is not None:
        return "given" if isinstance(marked.what, Served) else "skipped"
    return "missed" if day < today else "due"


def _round_serving(
    room: Room,
    today: date,
    day: date,
    serving: PostedServing,
    marked: Entry | None,
    why: Why,
) -> RoundServing:
    """One line of a stop."""
    feed = room.feeds.get(serving.feed)
    rules = room.tanks[serving.tank].feeds.get(serving.feed)
    return RoundServing(
        due=serving,
        shrunk=None,
        feed_name=feed.name if feed else serving.feed,
        minutes=rules.minutes if rules else 0.0,
        state=_state(today, day, marked),
        planned=why.code != "not_due",
        why=why,
        marked=marked,
        held=None,
    )


def _unplanned(room: Room, today: date, day: date, entry: Entry, what: Served) -> RoundServing:
    rules = room.tanks[what.tank].feeds.get(what.feed)
    method = rules.method if rules else "placed"
    serving = PostedServing(what.tank, what.feed, what.round, what.part, what.amount, what.unit, what.amount_mg, method)
    return _round_serving(room, today, day, serving, entry, Why("not_due"))
