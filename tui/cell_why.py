"""For one tank on one day of the posted plan: why each feed is served, or why it is not."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta

from schedules.days_off import is_day_off
from schedules.ledger import PostedServing, Posting
from schedules.room import Feed, FeedRules, Tank
from schedules.rules import FULL_DAY, SHARE_TOLERANCE
from schedules.units import number_text
from schedules.words import date_text, days_word, method_text
from tui.desk import Desk
from tui.telling import STAGE_TEXT, due_text


@dataclass(frozen=True, slots=True)
class Reason:
    """A feed on a day: its id and name, whether it is served, and why or why not."""

    feed: str
    name: str
    served: bool
    text: str


class PlanReasons:
    """The posting in force with what the ledger says was given, looked up by tank and feed."""

    def __init__(self, desk: Desk, posting: Posting) -> None:
        self._desk = desk
        self._posting = posting
        self._turns: dict[tuple[str, str], list[date]] = {}
        for number, servings in enumerate(posting.days):
            day = posting.start + timedelta(days=number)
            for due in servings if day >= desk.day else ():
                self._turns.setdefault((due.tank, due.feed), []).append(day)

    def of(self, tank: Tank, day: date) -> list[Reason]:
        """Every feed the tank takes: those served first."""
        due = {each.feed: each for each in self._posting.due(day) if each.tank == tank.id}
        found = [self._reason(tank, self._desk.room.feeds[feed], rules, day, due) for feed, rules in tank.feeds.items()]
        return sorted(found, key=lambda reason: not reason.served)

    def _reason(self, tank: Tank, feed: Feed, rules: FeedRules, day: date, due: dict[str, PostedServing]) -> Reason:
        serving = due.get(feed.id)
        if serving is None:
            why_not = next(self._against(tank, feed, rules, day, due))
            return Reason(feed.id, feed.name, False, why_not)
        before = max((turn for turn in self._days(tank.id, feed.id) if turn < day), default=None)
        since = "first time here" if before is None else f"{days_word((day - before).days)} after the last"
        text = f"{due_text(serving)}, {method_text(serving.method)}; {since}, at most {rules.max_gap}"
        return Reason(feed.id, feed.name, True, text)

    def _against(
        self, tank: Tank, feed: Feed, rules: FeedRules, day: date, due: dict[str, PostedServing]
    ) -> Iterator[str]:
        """What stands against serving a feed; last, that nothing does."""
        if not feed.stages & tank.stages(day):
            yield "nobody here eats it on this day"
        if not feed.fine and tank.rest_weekday == day.weekday():
            yield "the tank's rest day, no solid feed"
        if is_day_off(self._desk.room, day) and not rules.even_on_days_off:
            yield "all keepers are off"
        yield from self._too_near(tank, feed.id, day, rules.min_gap, "")
        if feed.group is not None:
            gap = self._desk.room.group_gaps[feed.group]
            for other in self._desk.room.feeds.values():
                if other.group == feed.group and other.id != feed.id:
                    yield from self._too_near(tank, other.id, day, gap, f"{other.name} ")
        taken = sum(each.share for each in due.values())
        if taken + rules.share > FULL_DAY + SHARE_TOLERANCE:
            yield f"no room: {number_text(taken, 2)} of the day's ration is taken, it would take {rules.share:g}"
        later = min((turn for turn in self._days(tank.id, feed.id) if turn > day), default=None)
        yield f"its turn comes {date_text(later)}" if later else "no turn is needed within this plan"

    def _too_near(self, tank: Tank, feed: str, day: date, gap: int, name: str) -> Iterator[str]:
        near = min(self._days(tank.id, feed), key=lambda turn: abs((turn - day).days), default=None)
        if near is not None and abs((near - day).days) < gap:
            yield f"too near to {name}{date_text(near)}: {days_word(gap)} apart at least"

    def _days(self, tank: str, feed: str) -> list[date]:
        """The days on which a feed was given, and those on which it is due from today on."""
        given = [entry.day for entry, _ in self._desk.history.servings(tank, feed)]
        return given + self._turns.get((tank, feed), [])


def stage_changes(tank: Tank, day: date) -> list[str]:
    """Which animals come on a day, and which are no longer there."""
    came = [f"{here.count} {STAGE_TEXT[here.stage]} from this day" for here in tank.animals if here.first == day]
    eve = day - timedelta(days=1)
    went = [f"{here.count} {STAGE_TEXT[here.stage]} until the day before" for here in tank.animals if here.last == eve]
    return came + went
