"""For one tank on one day of the posted plan: why each feed is served, or why it is not."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import date, timedelta
from functools import cached_property
from typing import Final, Literal

from schedules.ledger import PostedServing, Posting
from schedules.planning.explain import Reason, why, why_not
from schedules.planning.problem.build import build_problem
from schedules.planning.problem.types import Problem, Slot
from schedules.room import Feed, FeedRules, Room, Tank
from schedules.room.days_off import is_day_off
from schedules.room.kinds import Stage
from schedules.session.session import Session

_CLOSED: Final = ("not_open", "not_wanted")
"""What the planner says of a closed day; the room says why."""


Closed = Literal["nobody", "rest_day", "day_off"]
"""What closes a day to a feed, whatever else is given."""


@dataclass(frozen=True, slots=True)
class CellReason:
    """A feed on a day: the serving due (None where there is none), what closes the day to it, and why or why not."""

    feed: str
    due: PostedServing | None
    closed: tuple[Closed, ...]
    reasons: tuple[Reason, ...]


@dataclass(frozen=True, slots=True)
class StageChange:
    """Animals of a stage that come on a day (`came`), or that were there until the day before."""

    count: int
    stage: Stage
    came: bool


@dataclass(frozen=True, slots=True)
class _Asked:
    """What reasons are worked out from: the problem, and what was posted."""

    problem: Problem
    slots: list[Slot]


class PlanReasons:
    """The posting in force, explained by the rules it was planned by: tank by tank, as they are asked for."""

    def __init__(self, session: Session, posting: Posting) -> None:
        self._session = session
        self._posting = posting
        self._known: dict[str, _Asked] = {}

    def of(self, tank: Tank, number: int, *, whole: bool = False) -> list[CellReason]:
        """Every feed the tank takes on a day of the posting, those served first.

        With `whole` the other tanks' servings count too, for what a serving would make of the longest round.
        """
        posted = self._posting.days[number] if 0 <= number < len(self._posting.days) else ()
        due = {each.feed: each for each in posted if each.tank == tank.id}
        asked = self._whole if whole else self._alone(tank.id)
        found = [self._reason(tank, feed, number, due.get(feed), asked) for feed in tank.feeds]
        return sorted(found, key=lambda reason: reason.due is None)

    @cached_property
    def _whole(self) -> _Asked:
        """All tanks."""
        return self._asked(self._problem(self._session.room))

    def _alone(self, tank: str) -> _Asked:
        """One tank, of which every rule but the longest round can be checked without the others."""
        if tank not in self._known:
            problem = self._problem(self._session.room.only(tank))
            # That it was not posted shows only where something was: elsewhere the other tanks show it.
            problem = problem if problem.posted else self._whole.problem
            asked = self._asked(problem)
            self._known[tank] = replace(asked, slots=[slot for slot in asked.slots if slot.tank == tank])
        return self._known[tank]

    def _asked(self, problem: Problem) -> _Asked:
        """A problem with what was posted; what nobody there eats any more is no part of it."""
        posted = (Slot(day, due.tank, due.feed) for day, served in enumerate(self._posting.days) for due in served)
        tanks = problem.tanks
        return _Asked(problem, [slot for slot in posted if slot.tank in tanks and slot.feed in tanks[slot.tank].feeds])

    def _problem(self, room: Room) -> Problem:
        return build_problem(room, self._session.history, self._posting.start, len(self._posting.days))

    def _reason(self, tank: Tank, feed: str, number: int, due: PostedServing | None, asked: _Asked) -> CellReason:
        day = self._posting.start + timedelta(days=number)
        closed = () if due else tuple(self._closed(tank, self._session.room.feeds[feed], tank.feeds[feed], day))
        problem, slots, slot = asked.problem, asked.slots, Slot(number, tank.id, feed)
        planned = problem.tanks.get(tank.id)
        if planned is None or feed not in planned.feeds or number >= problem.days:
            return CellReason(feed, due, closed, ())
        reasons = why(problem, slots, slot) if due is not None else why_not(problem, slots, slot)
        return CellReason(feed, due, closed, tuple(each for each in reasons if not (closed and each.code in _CLOSED)))

    def _closed(self, tank: Tank, feed: Feed, rules: FeedRules, day: date) -> Iterator[Closed]:
        if not feed.stages & tank.stages(day):
            yield "nobody"
        if feed.table == "ground" and tank.rest_weekday == day.weekday():
            yield "rest_day"
        if is_day_off(self._session.room, day) and not rules.even_on_days_off:
            yield "day_off"


def stage_changes(tank: Tank, day: date) -> list[StageChange]:
    """Which animals come on a day, and which are no longer there."""
    eve = day - timedelta(days=1)
    came = [StageChange(here.count, here.stage, True) for here in tank.animals if here.first == day]
    return came + [StageChange(here.count, here.stage, False) for here in tank.animals if here.last == eve]
