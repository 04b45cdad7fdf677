"""A week as one value, Monday to Sunday, as it stood at its end or, while it runs, at the present moment."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta

from schedules.history import History
from schedules.history.life import Life
from schedules.ledger import Reason
from schedules.review.flags import FlagKind, Severity, flags
from schedules.review.report.animals import Animals, animals_of
from schedules.review.report.chores import ChoreKept, chores_of
from schedules.review.report.delivered import TABLES, Delivered, delivered_at
from schedules.review.report.rounds import RoundKept, reasons_of, rounds_of
from schedules.review.report.shelf import ShelfWeek, shelf_of_week
from schedules.review.report.water import Steadiness, steadiness_of
from schedules.room import Room
from schedules.stock import Stock


@dataclass(frozen=True, slots=True)
class Week:
    """What a week came to.

    `days` are those of it that are over or have begun; rounds of the running day count once something was marked in
    them. `skipped` says why servings were left out and how often; `flags` how many there are of each kind and severity.
    """

    monday: date
    days: int
    rounds: tuple[RoundKept, ...]
    skipped: Mapping[Reason, int]
    flags: Mapping[tuple[FlagKind, Severity], int]
    delivered: tuple[Delivered, ...]
    water: tuple[Steadiness, ...]
    animals: Animals
    chores: tuple[ChoreKept, ...]
    stock: tuple[ShelfWeek, ...]

    @property
    def last(self) -> date:
        """The last of its days that are over or have begun."""
        return self.monday + timedelta(days=self.days - 1)

    @property
    def sunday(self) -> date:
        """The week's last day."""
        return self.monday + timedelta(days=6)

    @property
    def minutes(self) -> float:
        """Minutes at the racks, from the first mark of each round to its last."""
        return sum(each.minutes for each in self.rounds)


def monday_of(day: date) -> date:
    """The Monday of a day's week."""
    return day - timedelta(days=day.weekday())


def last_of_week(monday: date, today: date) -> date:
    """The last day of the week from a Monday on that is over or has begun."""
    return min(monday + timedelta(days=6), today)


def week_report(room: Room, history: History, life: Life, stock: Stock, monday: date, now: datetime) -> Week:
    """The week from a Monday on; `history` reaches back to that day and `now` (aware) is not before it.

    Flags are those that stood at the week's end, from what was known then; `stock` is that of `last_of_week`.
    """
    today = room.day(now)
    last = last_of_week(monday, today)
    days = tuple(monday + timedelta(days=number) for number in range((last - monday).days + 1))
    end = now if last == today else datetime.combine(last, time(23, 59), room.zone)
    rounds = rounds_of(room, history, days)
    return Week(
        monday=monday,
        days=len(days),
        rounds=tuple(each for each in rounds if each.day < today or each.walked),
        skipped=reasons_of(history, room, days),
        flags=_flags(room, history, end, len(days) - 1),
        delivered=tuple(delivered_at(room, history, table, days) for table in TABLES),
        water=steadiness_of(room, history, days),
        animals=animals_of(life, days),
        chores=chores_of(room, history, today, days),
        stock=shelf_of_week(history, stock, days),
    )


def _flags(room: Room, history: History, end: datetime, days_back: int) -> dict[tuple[FlagKind, Severity], int]:
    found = flags(room, history, end, days_back)
    return dict(Counter((flag.kind, flag.severity) for flag in found))
