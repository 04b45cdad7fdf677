"""For one tank on one day of the posted plan: why each feed is served, or why it is not."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta

from schedules.days_off import is_day_off
from schedules.ledger import PostedServing, Posting
from schedules.plan.explain import why, why_not
from schedules.problem.build import build_problem
from schedules.problem.types import Slot
from schedules.room import Feed, FeedRules, Tank
from tui.desk import Desk
from tui.telling import STAGE_TEXT, due_text, how_text


@dataclass(frozen=True, slots=True)
class Reason:
    """A feed on a day: its id and name, how it is served (empty where it is not), and why or why not."""

    feed: str
    name: str
    served: str
    texts: tuple[str, ...]


class PlanReasons:
    """The posting in force, explained by the rules it was planned by."""

    def __init__(self, desk: Desk, posting: Posting) -> None:
        self._desk = desk
        self._posting = posting
        self._problem = build_problem(desk.room, desk.history, posting.start, len(posting.days))
        self._names = {feed.id: feed.name for feed in desk.room.feeds.values()}
        self._slots = [Slot(day, due.tank, due.feed) for day, served in enumerate(posting.days) for due in served]
        self._of_tank: dict[str, list[Slot]] = {}
        for slot in self._slots:
            self._of_tank.setdefault(slot.tank, []).append(slot)

    def of(self, tank: Tank, number: int, *, whole: bool = False) -> list[Reason]:
        """Every feed the tank takes on a day of the posting, those served first.

        With `whole` the other tanks' servings count too, for what a serving would make of the longest round.
        """
        posted = self._posting.days[number] if 0 <= number < len(self._posting.days) else ()
        due = {each.feed: each for each in posted if each.tank == tank.id}
        slots = self._slots if whole else self._of_tank.get(tank.id, [])
        found = [self._reason(tank, feed, number, due.get(feed), slots) for feed in tank.feeds]
        return sorted(found, key=lambda reason: not reason.served)

    def _reason(self, tank: Tank, feed: str, number: int, due: PostedServing | None, slots: list[Slot]) -> Reason:
        served = "" if due is None else f"{due_text(due)}, {how_text(due)}"
        name, slot = self._names.get(feed, feed), Slot(number, tank.id, feed)
        day = self._posting.start + timedelta(days=number)
        closed = () if due else tuple(self._closed(tank, self._desk.room.feeds[feed], tank.feeds[feed], day))
        planned = self._problem.tanks.get(tank.id)
        if planned is None or feed not in planned.feeds or number >= self._problem.days:
            return Reason(feed, name, served, closed)
        if due is not None:
            reasons = why(self._problem, slots, slot, self._names)
        else:
            reasons = why_not(self._problem, slots, number, tank.id, feed, self._names)
        told = (reason.text for reason in reasons if not (closed and reason.rule == "open"))
        return Reason(feed, name, served, (*closed, *told))

    def _closed(self, tank: Tank, feed: Feed, rules: FeedRules, day: date) -> Iterator[str]:
        """What closes a day to a feed, whatever else is given."""
        if not feed.stages & tank.stages(day):
            yield "nobody here eats it on this day"
        if not feed.fine and tank.rest_weekday == day.weekday():
            yield "the tank's rest day, no solid feed"
        if is_day_off(self._desk.room, day) and not rules.even_on_days_off:
            yield "all keepers are off"


def stage_changes(tank: Tank, day: date) -> list[str]:
    """Which animals come on a day, and which are no longer there."""
    came = [f"{here.count} {STAGE_TEXT[here.stage]} from this day" for here in tank.animals if here.first == day]
    eve = day - timedelta(days=1)
    went = [f"{here.count} {STAGE_TEXT[here.stage]} until the day before" for here in tank.animals if here.last == eve]
    return came + went
