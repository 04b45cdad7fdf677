"""The coming weeks as calendar events: rounds with their lengths, hatches expected, feeds to order."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from typing import Literal
from uuid import UUID, uuid5

from schedules.ledger import PostedServing
from schedules.review.expected import Expected, expected_hatches
from schedules.room import Room
from schedules.session.session import Session
from schedules.stock import Outlook

EventKind = Literal["round", "hatch", "order"]
NAMESPACE = UUID("2c1b7f52-1f43-4c0a-9d0e-6f0f6f8a7c11")
"""Of the ids of all events: the same room, kind, subject and day give the same id on every machine."""
ORDERS_AHEAD_DAYS = 60
"""What has to be ordered later than that is too far away to be sure of."""
ROUND_LEAST_MINUTES = 5
"""A shorter event is hard to see in a calendar."""


@dataclass(frozen=True, slots=True)
class Event:
    """One event, until `end`; with `start` a day it is for whole days, and `end` is the day after the last.

    `about` is the round, the hatch or the feed; `stops` and `minutes` are those of a round.
    """

    kind: EventKind
    uid: UUID
    start: date | datetime
    end: date | datetime
    about: str | Expected | Outlook
    stops: int = 0
    minutes: float = 0.0


def calendar_events(session: Session) -> tuple[Event, ...]:
    """What is posted and foreseen from today on, by start."""
    events = [*_rounds(session), *_hatches(session), *_orders(session)]
    return tuple(sorted(events, key=lambda each: (_first_day(each), each.kind, str(each.uid))))


def _first_day(event: Event) -> date:
    return event.start.date() if isinstance(event.start, datetime) else event.start


def _uid(room: Room, *words: str) -> UUID:
    return uuid5(NAMESPACE, "\n".join((room.name, room.zone.key, *words)))


def _rounds(session: Session) -> Iterator[Event]:
    room, posting = session.room, session.ledger.posting(session.day)
    if posting is None:
        return
    for number in range((session.day - posting.start).days, len(posting.days)):
        day = posting.start + timedelta(days=number)
        for walk in room.rounds:
            due = [serving for serving in posting.days[number] if serving.round == walk.id]
            if due:
                minutes = max(ROUND_LEAST_MINUTES, sum(_minutes(room, serving) for serving in due))
                start = datetime.combine(day, walk.at, room.zone)
                # Added in UTC: on the night of a change of clocks an hour of the wall clock is not an hour.
                end = start.astimezone(UTC) + timedelta(minutes=round(minutes))
                yield Event(
                    kind="round",
                    uid=_uid(room, "round", walk.id, day.isoformat()),
                    start=start,
                    end=end.astimezone(room.zone),
                    about=walk.id,
                    stops=len({serving.tank for serving in due}),
                    minutes=minutes,
                )


def _minutes(room: Room, serving: PostedServing) -> float:
    """Handling minutes of a serving; none where the tank or the feed is gone from the room."""
    tank = room.tanks.get(serving.tank)
    rules = None if tank is None else tank.feeds.get(serving.feed)
    return 0.0 if rules is None else rules.minutes


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
