"""The coming weeks as calendar events: rounds with their lengths, chores, days away, hatches expected, orders."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from typing import Literal
from uuid import UUID, uuid5

from schedules.chores import coming
from schedules.history.leave import MOST_LEAVE_DAYS, LeaveDay, leave_of
from schedules.ledger import PostedServing
from schedules.review.expected import Expected, expected_hatches
from schedules.room import Room, RoundTime
from schedules.room.chores import Chore, ChorePlace
from schedules.session.open_round import days_before
from schedules.session.session import Session
from schedules.stock import Outlook

EventKind = Literal["round", "chore", "away", "hatch", "order"]
NAMESPACE = UUID("2c1b7f52-1f43-4c0a-9d0e-6f0f6f8a7c11")
"""Of the ids of all events: the same room, kind, subject and day give the same id on every machine."""
ORDERS_AHEAD_DAYS = 60
"""What has to be ordered later than that is too far away to be sure of."""
ROUND_LEAST_MINUTES = 5
"""A shorter event is hard to see in a calendar."""


@dataclass(frozen=True, slots=True)
class DaysAway:
    """Days on which a helper feeds by one leave plan, both included, and on which of them there is something to do."""

    helper: str
    first: date
    last: date
    visits: tuple[date, ...]


@dataclass(frozen=True, slots=True)
class ChoreDay:
    """One chore on a day, at all its places that have their turn then; `helper` feeds on that day, None for nobody."""

    chore: Chore
    places: tuple[ChorePlace, ...]
    helper: str | None


@dataclass(frozen=True, slots=True)
class Event:
    """One event, until `end`; with `start` a day it is for whole days, and `end` is the day after the last.

    `about` is the round, the chore, the days away, the hatch or the feed; `stops`, `minutes` and `helper` (who feeds by
    a leave plan) are those of a round.
    """

    kind: EventKind
    uid: UUID
    start: date | datetime
    end: date | datetime
    about: str | ChoreDay | DaysAway | Expected | Outlook
    stops: int = 0
    minutes: float = 0.0
    helper: str | None = None


def calendar_events(session: Session) -> tuple[Event, ...]:
    """What is posted and foreseen from today on, by start."""
    events = [*_rounds(session), *_chores(session), *_days_away(session), *_hatches(session), *_orders(session)]
    return tuple(sorted(events, key=lambda each: (_first_day(each), each.kind, str(each.uid))))


def _first_day(event: Event) -> date:
    return event.start.date() if isinstance(event.start, datetime) else event.start


def _uid(room: Room, *words: str) -> UUID:
    return uuid5(NAMESPACE, "\n".join((room.name, room.zone.key, *words)))


def _rounds(session: Session) -> Iterator[Event]:
    for day, due in _planned(session).items():
        for walk in session.room.rounds:
            servings = [serving for serving in due if serving.round == walk.id]
            if servings:
                yield _round(session, day, walk, servings)


def _planned(session: Session) -> dict[date, tuple[PostedServing, ...]]:
    """What is due on each day from today on: as posted, on days away by the leave plan, also where none is posted."""
    plan, leave = session.plan, session.history.leave
    posted = {} if plan is None else {plan.start + timedelta(days=n): due for n, due in enumerate(plan.days)}
    away = {day: held.due for day, held in leave.items()}
    return {day: due for day, due in sorted((posted | away).items()) if day >= session.day}


def _round(session: Session, day: date, walk: RoundTime, due: list[PostedServing]) -> Event:
    room, away = session.room, session.history.leave.get(day)
    minutes = max(ROUND_LEAST_MINUTES, sum(_minutes(room, serving) for serving in due))
    start = datetime.combine(day, walk.at, room.zone)
    # Added in UTC: on the night of a change of clocks an hour of the wall clock is not an hour.
    end = start.astimezone(UTC) + timedelta(minutes=round(minutes))
    return Event(
        kind="round",
        uid=_uid(room, "round", walk.id, day.isoformat()),
        start=start,
        end=end.astimezone(room.zone),
        about=walk.id,
        stops=len({serving.tank for serving in due}),
        minutes=minutes,
        helper=None if away is None else away.helper,
    )


def _minutes(room: Room, serving: PostedServing) -> float:
    """Handling minutes of a serving; none where the tank or the feed is gone from the room."""
    tank = room.tanks.get(serving.tank)
    rules = None if tank is None else tank.feeds.get(serving.feed)
    return 0.0 if rules is None else rules.minutes


def _chores(session: Session) -> Iterator[Event]:
    """Each chore on each day of the posted plan on which any of its places has a turn, if each is done on its day."""
    room, history, today = session.room, session.history, session.day
    last = max(_planned(session), default=today)
    for chore in room.chores:
        by_day: dict[date, list[ChorePlace]] = {}
        for place in chore.places:
            for day in coming(room, history, chore, place, today, last):
                by_day.setdefault(day, []).append(place)
        for day, places in sorted(by_day.items()):
            away = history.leave.get(day)
            yield Event(
                kind="chore",
                uid=_uid(room, "chore", chore.id, day.isoformat()),
                start=day,
                end=day + timedelta(days=1),
                about=ChoreDay(chore, tuple(places), None if away is None else away.helper),
                minutes=chore.minutes * len(places),
            )


def _days_away(session: Session) -> Iterator[Event]:
    """Each stretch of days on which one leave plan holds, also those of it that are over."""
    stretches: list[list[tuple[date, LeaveDay]]] = []
    held_since = leave_of(session.ledger, days_before(session.day, MOST_LEAVE_DAYS))
    for day, held in sorted(held_since.items()):
        before, of_before = stretches[-1][-1] if stretches else (None, held)
        if before == day - timedelta(days=1) and of_before.seq == held.seq:
            stretches[-1].append((day, held))
        else:
            stretches.append([(day, held)])
    for days in stretches:
        first, last, helper = days[0][0], days[-1][0], days[0][1].helper
        if last >= session.day:
            yield Event(
                kind="away",
                uid=_uid(session.room, "away", first.isoformat()),
                start=first,
                end=last + timedelta(days=1),
                about=DaysAway(helper, first, last, tuple(day for day, held in days if held.due)),
            )


def _hatches(session: Session) -> Iterator[Event]:
    known = Counter[tuple[str, date]]()
    for hatch in expected_hatches(session.room, session.life, session.day):
        if hatch.window is not None and hatch.window.last >= session.day:
            seen = hatch.berried or hatch.eyed or hatch.window.first
            known[hatch.tank, seen] += 1
            yield Event(
                kind="hatch",
                uid=_uid(session.room, "hatch", hatch.tank, seen.isoformat(), str(known[hatch.tank, seen])),
                start=hatch.window.first,
                end=hatch.window.last + timedelta(days=1),
                about=hatch,
            )


def _orders(session: Session) -> Iterator[Event]:
    for each in session.stock().orders:
        if each.order is not None and (each.order.by - session.day).days <= ORDERS_AHEAD_DAYS:
            day = max(each.order.by, session.day)
            yield Event(
                kind="order",
                uid=_uid(session.room, "order", each.feed),
                start=day,
                end=day + timedelta(days=1),
                about=each,
            )
