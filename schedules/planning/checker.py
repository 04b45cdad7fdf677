"""The planning rules stated a second time, from a plan's JSON alone (format "rackround-plan/2").

It shares no code with the planner: it reads the document as plain dicts and lists and imports nothing of this program,
so that a fault in how the planner understands a rule cannot hide in the check.

Where the rules leave room, this is the reading: servings of one clock on one day follow each other in order of feed
id; a feed that a clock was answered with before day 0 counts for turns even if the tank no longer gets it; a posted
serving of a tank or feed that is gone counts as a change.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from itertools import pairwise
from typing import Any

Document = dict[str, Any]
"""A plan as JSON, read."""

FORMAT = "rackround-plan/2"
_SUMS = 1e-9  # sums such as 0.1 + 0.2 + 0.7 are not exact
_COSTS = 1e-6  # part of a cost; stated and found nearer than this are the same
_PARTS = 1e-3  # parts may be rounded in print
_TEXTS = {
    "format": "the format is {found}, not {needed}",
    "no_tank": "{tank} is not a tank of this room (day {day})",
    "no_feed": "{tank}: {feed} is not a feed of this tank (day {day})",
    "date": "{tank}: {feed} on day {day} is dated {found}, not {needed}",
    "round": "{tank}: {feed} on day {day} is in the round {found}, not {needed}",
    "closed": "{tank}: {feed} on day {day}, which is not open",
    "twice": "{tank}: {feed} is served {times} times on day {day}",
    "feed_gap": "{tank}: {feed} on day {day}, {gap} after day {before}; at least {needed}",
    "clock_gap": "{tank}: clock {clock} on day {day}, {gap} after day {before}; at least {needed}",
    "shares": "{tank}: the shares at the {table} table on day {day} add up to {found:g}; at most 1",
    "part": "{tank}: the part of {feed} on day {day} is {found:g}, not {needed:.4f}",
    "cost": "the cost {name} is {found:g}, not {needed:g}",
    "bound": "the bound {bound:g} is above the cost {cost:g}",
}


@dataclass(frozen=True, slots=True)
class Breach:
    """One way in which a plan is wrong: a code, its numbers and names, and both as a sentence."""

    code: str
    values: Mapping[str, Any]

    @property
    def text(self) -> str:
        """The breach in words."""
        return _TEXTS[self.code].format(**self.values)


def check(document: Document) -> list[Breach]:
    """Everything that is wrong with a plan; an empty list for a sound one."""
    if document["format"] != FORMAT:
        return [_breach("format", found=document["format"], needed=FORMAT)]
    return [*broken_rules(document), *_wrong_parts(document), *_wrong_costs(document)]


def broken_rules(document: Document) -> list[Breach]:
    """The hard rules that a plan breaks, each breach once."""
    tanks = _tanks(document)
    found = list(_out_of_place(document))
    for tank in tanks:
        found += [*tank.closed_or_twice(), *tank.feed_gaps(), *tank.clock_gaps(), *tank.full_tables()]
    return found


def costs(document: Document) -> dict[str, float]:
    """The costs of a plan by name, weights applied, and their total."""
    tanks = _tanks(document)
    near, late = _changes(document)
    found = {
        "overdue": math.fsum(cost for tank in tanks for cost in tank.overdue()),
        "unaccompanied": 5.0 * sum(tank.unaccompanied() for tank in tanks),
        "weekly": 10.0 * math.fsum(distance for tank in tanks for distance in tank.weekly()),
        "repeat": 20.0 * sum(tank.repeats() for tank in tanks),
        "longest_round": 30.0 * _longest_round(document),
        "churn": 2.0 * near,
        "late_churn": 0.5 * late,
    }
    return {**found, "total": math.fsum(found.values())}


def parts(feeds: Mapping[str, Document]) -> dict[str, float]:
    """What each feed served at one table on one day takes of the day's ration, by feed.

    All shares are raised by one factor until they add up to 1, each up to its `most`. The factor is found by halving.
    """

    def raised(factor: float) -> dict[str, float]:
        return {feed_id: min(feed["most"], factor * feed["share"]) for feed_id, feed in feeds.items()}

    low = 1.0
    high = max((feed["most"] / feed["share"] for feed in feeds.values() if feed["share"] > 0), default=low)
    for _ in range(80):
        middle = (low + high) / 2
        low, high = (low, middle) if math.fsum(raised(middle).values()) > 1 else (middle, high)
    return raised(low)


def _breach(code: str, **values: Any) -> Breach:
    return Breach(code, values)


@dataclass(frozen=True, slots=True)
class _Tank:
    """One tank of a document and its servings, (day, feed) in ascending order."""

    name: str
    start: date
    days: int
    problem: Document
    served: list[tuple[int, str]]

    def closed_or_twice(self) -> Iterator[Breach]:
        for day, feed_id in sorted(set(self.served)):
            if day not in self.problem["feeds"][feed_id]["open"]:
                yield _breach("closed", tank=self.name, feed=feed_id, day=day)
            if (times := self.served.count((day, feed_id))) > 1:
                yield _breach("twice", tank=self.name, feed=feed_id, day=day, times=times)

    def feed_gaps(self) -> Iterator[Breach]:
        for feed_id, feed in self.problem["feeds"].items():
            past = [] if feed["last"] is None else [feed["last"]]
            for before, day in pairwise([*past, *sorted({day for day, other in self.served if other == feed_id})]):
                if day - before < feed["min_gap"]:
                    gap = {"before": before, "gap": day - before, "needed": feed["min_gap"]}
                    yield _breach("feed_gap", tank=self.name, feed=feed_id, day=day, **gap)

    def clock_gaps(self) -> Iterator[Breach]:
        for clock_id, clock in self.problem["clocks"].items():
            past = [] if clock["last"] is None else [clock["last"]["day"]]
            # One feed twice on a day breaks another rule.
            for before, day in pairwise([*past, *(day for day, _ in sorted(set(self.answers(clock))))]):
                if day - before < clock["min_gap"]:
                    gap = {"before": before, "gap": day - before, "needed": clock["min_gap"]}
                    yield _breach("clock_gap", tank=self.name, clock=clock_id, day=day, **gap)

    def answers(self, clock: Document) -> list[tuple[int, str]]:
        """The servings of a clock's feeds."""
        return [(day, feed_id) for day, feed_id in self.served if feed_id in clock["feeds"]]

    def tables(self) -> dict[tuple[int, str], list[str]]:
        """The feeds served by day and table."""
        found: dict[tuple[int, str], list[str]] = {}
        for day, feed_id in self.served:
            found.setdefault((day, self.problem["feeds"][feed_id]["table"]), []).append(feed_id)
        return found

    def full_tables(self) -> Iterator[Breach]:
        for (day, table), fed in self.tables().items():
            shares = math.fsum(self.problem["feeds"][feed_id]["share"] for feed_id in fed)
            if shares > 1 + _SUMS:
                yield _breach("shares", tank=self.name, table=table, day=day, found=shares)

    def parts(self) -> dict[tuple[int, str], float]:
        """What each serving takes of its table's ration, by (day, feed)."""
        feeds = self.problem["feeds"]
        return {
            (day, feed_id): part
            for (day, _), fed in self.tables().items()
            for feed_id, part in parts({one: feeds[one] for one in fed}).items()
        }

    def overdue(self) -> Iterator[float]:
        """The cost of each overdue day."""
        for clock in self.problem["clocks"].values():
            if clock["max_gap"] is None or clock["overdue"] is None:
                continue
            wanted, served = set(clock["wanted"]), {day for day, _ in self.answers(clock)}
            last = -math.inf if clock["last"] is None else clock["last"]["day"]
            began: float = math.inf if clock["wanted_since"] is None else clock["wanted_since"]
            for day in range(self.days):
                last = day if day in served else last
                if day in wanted and day - 1 not in wanted and not (day == 0 and began < day):
                    began = day
                if day in wanted and day - max(last, began - 1) >= clock["max_gap"]:
                    yield float(clock["overdue"])

    def unaccompanied(self) -> int:
        adults, feeds = set(self.problem["adults"]), self.problem["feeds"]
        drawn = {day for day, feed_id in self.served if feeds[feed_id]["draws"]}
        fine = [day for day, feed_id in self.served if feeds[feed_id]["kind"] in ("biofilm", "powder")]
        return sum(day in adults and day not in drawn for day in fine)

    def weekly(self) -> Iterator[float]:
        """The distance of each week of each clock from its target, in days."""
        sundays = [day for day in range(self.days) if (self.start + timedelta(days=day)).isoweekday() == 7]
        for clock in self.problem["clocks"].values():
            if clock["per_week"] is None:
                continue
            answered = {day for day, _ in self.answers(clock)} & set(clock["wanted"])
            for sunday in sundays:
                week = range(sunday - 6, sunday + 1)
                earlier = clock["earlier_this_week"] if sunday < 7 else {"days": 0, "wanted": 0}
                served = earlier["days"] + sum(day in week for day in answered)
                wanted = earlier["wanted"] + sum(day in week for day in clock["wanted"])
                yield abs(served - clock["per_week"] * wanted / 7)

    def repeats(self) -> int:
        count = 0
        for clock in self.problem["clocks"].values():
            if not clock["rotate"]:
                continue
            before = None if clock["last"] is None else clock["last"]["feed"]
            for day, feed_id in self.answers(clock):
                others = [self.problem["feeds"][other] for other in clock["feeds"] if other != feed_id]
                count += feed_id == before and any(day in other["open"] for other in others)
                before = feed_id
        return count


def _tanks(document: Document) -> list[_Tank]:
    served: dict[str, list[tuple[int, str]]] = {}
    for serving in _known(document):
        served.setdefault(serving["tank"], []).append((serving["day"], serving["feed"]))
    start, days = date.fromisoformat(document["start"]), document["days"]
    return [
        _Tank(name, start, days, tank, sorted(served.get(name, [])))
        for name, tank in document["problem"]["tanks"].items()
    ]


def _known(document: Document) -> Iterator[Document]:
    """The servings of tanks and feeds that the problem has."""
    tanks = document["problem"]["tanks"]
    return (
        serving
        for serving in document["servings"]
        if serving["tank"] in tanks and serving["feed"] in tanks[serving["tank"]]["feeds"]
    )


def _out_of_place(document: Document) -> Iterator[Breach]:
    """Servings of no tank, of no feed, or in another day's or round's place than they say."""
    tanks, start = document["problem"]["tanks"], date.fromisoformat(document["start"])
    for serving in document["servings"]:
        tank, feed, day = serving["tank"], serving["feed"], serving["day"]
        if tank not in tanks:
            yield _breach("no_tank", tank=tank, day=day)
            continue
        if feed not in tanks[tank]["feeds"]:
            yield _breach("no_feed", tank=tank, feed=feed, day=day)
            continue
        place = {"tank": tank, "feed": feed, "day": day}
        needed = {"date": (start + timedelta(days=day)).isoformat(), "round": tanks[tank]["feeds"][feed]["round"]}
        for name, value in needed.items():
            if serving[name] != value:
                yield _breach(name, **place, found=serving[name], needed=value)


def _wrong_parts(document: Document) -> Iterator[Breach]:
    needed = {(tank.name, *place): part for tank in _tanks(document) for place, part in tank.parts().items()}
    for serving in _known(document):
        part = needed[serving["tank"], serving["day"], serving["feed"]]
        if abs(serving["part"] - part) > _PARTS:
            place = {key: serving[key] for key in ("tank", "feed", "day")}
            yield _breach("part", **place, found=serving["part"], needed=part)


def _wrong_costs(document: Document) -> Iterator[Breach]:
    found = costs(document)
    for name, cost in found.items():
        if not _same(document["cost"][name], cost):
            yield _breach("cost", name=name, found=document["cost"][name], needed=cost)
    bound, total = document["bound"], found["total"]
    if bound is not None and bound > total and not _same(bound, total):
        yield _breach("bound", bound=bound, cost=total)


def _same(stated: float, found: float) -> bool:
    return abs(stated - found) <= _COSTS * max(1.0, abs(found))


def _longest_round(document: Document) -> float:
    minutes: dict[tuple[int, str], list[float]] = {}
    for serving in _known(document):
        feed = document["problem"]["tanks"][serving["tank"]]["feeds"][serving["feed"]]
        minutes.setdefault((serving["day"], feed["round"]), []).append(feed["minutes"])
    return max((math.fsum(found) for found in minutes.values()), default=0.0)


def _changes(document: Document) -> tuple[int, int]:
    """The servings added to or gone from the posted days: of days 0 to 6, and of the days from 7 on."""
    end = min(document["problem"]["posted_days"], document["days"])

    def of_posted_days(servings: Iterable[Document]) -> set[tuple[int, str, str]]:
        return {(one["day"], one["tank"], one["feed"]) for one in servings if 0 <= one["day"] < end}

    changed = of_posted_days(document["servings"]) ^ of_posted_days(document["problem"]["posted"])
    near = sum(day < 7 for day, _, _ in changed)
    return near, len(changed) - near
