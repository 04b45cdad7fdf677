"""From the JSON of a plan to the planning problem in it."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from pydantic import ValidationError

from schedules.planning.problem.json import schema
from schedules.planning.problem.json.fault import Path, ProblemFault, fault_of, shown
from schedules.planning.problem.types import Clock, LastAnswer, PlanFeed, Problem, Slot, TankProblem


def problem_from_json(document: object) -> Problem:
    """The problem inside a plan's JSON; the servings, cost and bound beside it are not looked at.

    Raises `ProblemFault` for the first fault found.
    """
    if not isinstance(document, dict):
        raise ProblemFault((), shown(document), "an object")
    if document.get("format") != schema.FORMAT:
        found = shown(document["format"]) if "format" in document else "nothing"
        raise ProblemFault(("format",), found, f'"{schema.FORMAT}"; plans of an earlier form have to be made again')
    try:
        read = schema.Document.model_validate(document)
    except ValidationError as faults:
        raise fault_of(faults.errors()[0]) from None
    if read.days > (date.max - read.start).days:
        raise ProblemFault(("days",), str(read.days), f"a plan that ends before {date.max}")
    for fault in _faults_between_keys(read):
        raise fault
    return _problem(read)


def _problem(read: schema.Document) -> Problem:
    body = read.problem
    return Problem(
        read.start,
        read.days,
        {name: _tank(tank) for name, tank in body.tanks.items()},
        tuple(Slot(slot.day, slot.tank, slot.feed) for slot in body.posted),
        body.posted_days,
    )


def _tank(read: schema.Tank) -> TankProblem:
    feeds = {
        name: PlanFeed(**{**{key: getattr(feed, key) for key in schema.Feed.model_fields}, "open": tuple(feed.open)})
        for name, feed in read.feeds.items()
    }
    return TankProblem(tuple(read.adults), {name: _clock(clock) for name, clock in read.clocks.items()}, feeds)


def _clock(read: schema.Clock) -> Clock:
    return Clock(
        tuple(read.feeds),
        read.min_gap,
        read.max_gap,
        read.per_week,
        read.overdue,
        read.rotate,
        tuple(read.wanted),
        read.wanted_since,
        LastAnswer(read.last.day, read.last.feed) if read.last else None,
        read.earlier_this_week.days,
        read.earlier_this_week.wanted,
    )


def _faults_between_keys(read: schema.Document) -> Iterator[ProblemFault]:
    """Faults that no key has by itself."""
    for name, tank in read.problem.tanks.items():
        path: Path = ("problem", "tanks", name)
        yield from _day_faults(tank.adults, (*path, "adults"), read.days)
        for feed_id, feed in tank.feeds.items():
            yield from _day_faults(feed.open, (*path, "feeds", feed_id, "open"), read.days)
            if feed.most < feed.share:
                allowed = f"a number from its share ({feed.share:g}) to 1"
                yield ProblemFault((*path, "feeds", feed_id, "most"), f"{feed.most:g}", allowed)
        for clock_id, clock in tank.clocks.items():
            yield from _clock_faults(clock, (*path, "clocks", clock_id), read, tank)
    seen: set[tuple[int, str, str]] = set()
    for place, slot in enumerate(read.problem.posted):
        at: Path = ("problem", "posted", place)
        key = (slot.day, slot.tank, slot.feed)
        if key in seen:
            yield ProblemFault(at, f"{slot.feed} for {slot.tank} on day {slot.day} again", "each serving once")
        seen.add(key)


def _clock_faults(clock: schema.Clock, path: Path, read: schema.Document, tank: schema.Tank) -> Iterator[ProblemFault]:
    for place, feed in enumerate(clock.feeds):
        if feed not in tank.feeds or feed in clock.feeds[:place]:
            allowed = f"a feed of the tank, each once: {', '.join(tank.feeds) or 'none'}"
            yield ProblemFault((*path, "feeds", place), shown(feed), allowed)
    if not clock.feeds:
        yield ProblemFault((*path, "feeds"), "an empty array", "one feed or more")
    yield from _day_faults(clock.wanted, (*path, "wanted"), read.days)
    today = 0 in clock.wanted
    if today is (clock.wanted_since is None):
        allowed = "a day up to 0, as day 0 is wanted" if today else "null, as day 0 is not wanted"
        yield ProblemFault((*path, "wanted_since"), shown(clock.wanted_since), allowed)
    earlier, before = clock.earlier_this_week, read.start.weekday()
    at = (*path, "earlier_this_week")
    if earlier.wanted > before:
        yield ProblemFault((*at, "wanted"), str(earlier.wanted), f"at most the {before} days since Monday")
    if earlier.days > earlier.wanted:
        yield ProblemFault((*at, "days"), str(earlier.days), f"at most the {earlier.wanted} wanted days")


def _day_faults(found: list[int], path: Path, days: int) -> Iterator[ProblemFault]:
    """Day numbers ascend, each once, within the plan."""
    before = -1
    for place, day in enumerate(found):
        if not before < day < days:
            least = "no more" if before + 1 >= days else f"a whole number from {before + 1} to {days - 1}"
            yield ProblemFault((*path, place), str(day), least)
        before = day
