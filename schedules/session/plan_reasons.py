"""For one tank on one day of the posted plan: why each feed is served, or why it is not."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from functools import cached_property

from schedules.ledger import PostedServing, Posting
from schedules.plan.explain import why, why_not
from schedules.problem.build import build_problem
from schedules.problem.types import Problem, Slot
from schedules.room import Feed, FeedRules, Room, Tank
from schedules.room.days_off import is_day_off
from schedules.session.session import Session
from schedules.wording.entries import STAGE_TEXT, due_text, how_text


@dataclass(frozen=True, slots=True)
class Reason:
    """A feed on a day: its id and name, how it is served (empty where it is not), and why or why not."""

    feed: str
    name: str
    served: str
    texts: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class _Asked:
    """What reasons are told from: the problem, and what was posted."""

    problem: Problem
    slots: list[Slot]


class PlanReasons:
    """The posting in force, explained by the rules it was planned by: tank by tank, as they are asked for."""

    def __init__(self, session: Session, posting: Posting) -> None:
        self._session = session
        self._posting = posting
        self._names = {feed.id: feed.name for feed in session.room.feeds.values()}
        self._known: dict[str, _Asked] = {}

    def of(self, tank: Tank, number: int, *, whole: bool = False) -> list[Reason]:
        """Every feed the tank takes on a day of the posting, those served first.

        With `whole` the other tanks' servings count too, for what a serving would make of the longest round.
        """
        posted = self._posting.days[number] if 0 <= number < len(self._posting.days) else ()
        due = {each.feed: each for each in posted if each.tank == tank.id}
        asked = self._whole if whole else self._alone(tank.id)
        found = [self._reason(tank, feed, number, due.get(feed), asked) for feed in tank.feeds]
        return sorted(found, key=lambda reason: not reason.served)

    @cached_property
    def _whole(self) -> _Asked:
        """All tanks."""
        slots = [Slot(day, due.tank, due.feed) for day, served in enumerate(self._posting.days) for due in served]
        return _Asked(self._problem(self._session.room), slots)

    def _alone(self, tank: str) -> _Asked:
        """One tank, of which every rule but the longest round can be told without the others."""
        if tank not in self._known:
            problem = self._problem(self._session.room.only(tank))
            # That it was not posted can be told only where something was: elsewhere the other tanks tell it.
            problem = problem if problem.posted else self._whole.problem
            posted = enumerate(self._posting.days)
            slots = [Slot(day, tank, due.feed) for day, served in posted for due in served if due.tank == tank]
            self._known[tank] = _Asked(problem, slots)
        return self._known[tank]

    def _problem(self, room: Room) -> Problem:
        return build_problem(room, self._session.history, self._posting.start, len(self._posting.days))

    def _reason(self, tank: Tank, feed: str, number: int, due: PostedServing | None, asked: _Asked) -> Reason:
        served = "" if due is None else f"{due_text(due)}, {how_text(due)}"
        name, slot = self._names.get(feed, feed), Slot(number, tank.id, feed)
        day = self._posting.start + timedelta(days=number)
        closed = () if due else tuple(self._closed(tank, self._session.room.feeds[feed], tank.feeds[feed], day))
        problem, slots = asked.problem, asked.slots
        planned = problem.tanks.get(tank.id)
        if planned is None or feed not in planned.feeds or number >= problem.days:
            return Reason(feed, name, served, closed)
        if due is not None:
            reasons = why(problem, slots, slot, self._names)
        else:
            reasons = why_not(problem, slots, number, tank.id, feed, self._names)
        told = (reason.text for reason in reasons if not (closed and reason.rule == "open"))
        return Reason(feed, name, served, (*closed, *told))

    def _closed(self, tank: Tank, feed: Feed, rules: FeedRules, day: date) -> Iterator[str]:
        """What closes a day to a feed, whatever else is given."""
        if not feed.stages & tank.stages(day):
            yield "nobody here eats it on this day"
        if not feed.fine and tank.rest_weekday == day.weekday():
            yield "the tank's rest day, no solid feed"
        if is_day_off(self._session.room, day) and not rules.even_on_days_off:
            yield "all keepers are off"


def stage_changes(tank: Tank, day: date) -> list[str]:
    """Which animals come on a day, and which are no longer there."""
    came = [f"{here.count} {STAGE_TEXT[here.stage]} from this day" for here in tank.animals if here.first == day]
    eve = day - timedelta(days=1)
    went = [f"{here.count} {STAGE_TEXT[here.stage]} until the day before" for here in tank.animals if here.last == eve]
    return came + went
