"""A planning problem and a plan as JSON, both ways, in the format `rackround-plan/2`.

Reading is strict: every key is there, none is unknown, and every number means something. The first fault found is
raised with its path inside the document, such as `problem.tanks.a1.clocks.greens.min_gap`.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from datetime import date, timedelta
from difflib import get_close_matches
from typing import Annotated, Any, Literal

from pydantic import BaseModel, BeforeValidator, ConfigDict, ValidationError
from pydantic_core import ErrorDetails, PydanticCustomError

from schedules.planning.problem.parts import parts
from schedules.planning.problem.types import Clock, LastAnswer, Plan, PlanFeed, Problem, Slot, Table, TankProblem
from schedules.room.kinds import KINDS, Kind

FORMAT = "rackround-plan/2"
LONGEST_HORIZON = 90
LONGEST_GAP = 366
EARLIEST_DAY = -36500
"""A century before a plan: what is longer ago is a slip of the pen."""
TABLES: tuple[Table, ...] = ("fine", "ground", "fan")

Json = dict[str, Any]
Path = tuple[str | int, ...]
Check = Callable[[Any], Any]

_SHOWN = 40  # characters of a wrong value that are shown


class ProblemFault(ValueError):
    """A document that is no planning problem: where the fault is, what was found, what is allowed."""

    def __init__(self, path: Path, found: str, allowed: str) -> None:
        self.path = path_text(path)
        self.found = found
        self.allowed = allowed
        super().__init__(f"{self.path}: found {found}, allowed is {allowed}")


def path_text(path: Path) -> str:
    """A path as a reader writes it: `problem.posted[3].day`; the document itself is `document`."""
    text = ""
    for step in path:
        text += f"[{step}]" if isinstance(step, int) else f".{step}" if text else step
    return text or "document"


def _refused(allowed: str) -> PydanticCustomError:
    return PydanticCustomError("allowed", "{allowed}", {"allowed": allowed})


def _whole(least: int, most: int) -> Check:
    def check(value: Any) -> Any:
        if not isinstance(value, int) or isinstance(value, bool) or not least <= value <= most:
            raise _refused(f"a whole number from {least} to {most}")
        return value

    return check


def _number(most: float) -> Check:
    def check(value: Any) -> Any:
        right = isinstance(value, (int, float)) and not isinstance(value, bool)
        # Compared before it is converted: a whole number of hundreds of digits is no float.
        if not right or not 0 <= value <= most:
            raise _refused(f"a number from 0 to {most:g}")
        return value

    return check


def _choice(choices: Sequence[str]) -> Check:
    def check(value: Any) -> Any:
        if not isinstance(value, str) or value not in choices:
            raise _refused(f"one of {', '.join(choices)}")
        return value

    return check


def _text(value: Any) -> Any:
    if not isinstance(value, str) or not value:
        raise _refused("a text that is not empty")
    return value


def _truth(value: Any) -> Any:
    if not isinstance(value, bool):
        raise _refused("true or false")
    return value


def _date(value: Any) -> Any:
    try:
        found = date.fromisoformat(value) if isinstance(value, str) else None
    except ValueError:
        found = None
    if found is None or found.isoformat() != value:
        raise _refused("a date that exists, as 2026-11-25")
    return found


Text = Annotated[str, BeforeValidator(_text)]
Truth = Annotated[bool, BeforeValidator(_truth)]
Gap = Annotated[int, BeforeValidator(_whole(0, LONGEST_GAP))]
LongestGap = Annotated[int, BeforeValidator(_whole(1, LONGEST_GAP))]
Day = Annotated[int, BeforeValidator(_whole(0, LONGEST_HORIZON - 1))]
PastDay = Annotated[int, BeforeValidator(_whole(EARLIEST_DAY, -1))]
DayUpToNow = Annotated[int, BeforeValidator(_whole(EARLIEST_DAY, 0))]
WeekDays = Annotated[int, BeforeValidator(_whole(0, 6))]
Horizon = Annotated[int, BeforeValidator(_whole(1, LONGEST_HORIZON))]
PostedDays = Annotated[int, BeforeValidator(_whole(0, LONGEST_HORIZON))]
DaysAWeek = Annotated[float, BeforeValidator(_number(7))]
Part = Annotated[float, BeforeValidator(_number(1))]
Weight = Annotated[float, BeforeValidator(_number(10_000))]
Minutes = Annotated[float, BeforeValidator(_number(1440))]


class _Strict(BaseModel):
    model_config = ConfigDict(extra="forbid")


class _Last(_Strict):
    day: PastDay
    feed: Text


class _Earlier(_Strict):
    days: WeekDays
    wanted: WeekDays


class _Clock(_Strict):
    feeds: list[Text]
    min_gap: Gap
    max_gap: LongestGap | None
    per_week: DaysAWeek | None
    overdue: Weight | None
    rotate: Truth
    wanted: list[Day]
    wanted_since: DayUpToNow | None
    last: _Last | None
    earlier_this_week: _Earlier


class _Feed(_Strict):
    kind: Annotated[Kind, BeforeValidator(_choice(KINDS))]
    table: Annotated[Table, BeforeValidator(_choice(TABLES))]
    round: Text
    draws: Truth
    min_gap: Gap
    share: Part
    most: Part
    minutes: Minutes
    open: list[Day]
    last: PastDay | None


class _Tank(_Strict):
    adults: list[Day]
    clocks: dict[str, _Clock]
    feeds: dict[str, _Feed]


class _Posted(_Strict):
    day: Day
    tank: Text
    feed: Text


class _Body(_Strict):
    tanks: dict[str, _Tank]
    posted: list[_Posted]
    posted_days: PostedDays


class _Document(_Strict):
    format: Literal["rackround-plan/2"]
    start: Annotated[date, BeforeValidator(_date)]
    days: Horizon
    problem: _Body
    servings: Any = None
    cost: Any = None
    bound: Any = None


def problem_from_json(document: object) -> Problem:
    """The problem inside a plan's JSON; the servings, cost and bound beside it are not looked at.

    Raises `ProblemFault` for the first fault found.
    """
    if not isinstance(document, dict):
        raise ProblemFault((), _shown(document), "an object")
    if document.get("format") != FORMAT:
        found = _shown(document["format"]) if "format" in document else "nothing"
        raise ProblemFault(("format",), found, f'"{FORMAT}"; plans of an earlier form have to be made again')
    try:
        read = _Document.model_validate(document)
    except ValidationError as faults:
        raise _fault(faults.errors()[0]) from None
    if read.days > (date.max - read.start).days:
        raise ProblemFault(("days",), str(read.days), f"a plan that ends before {date.max}")
    for fault in _faults_between_keys(read):
        raise fault
    return _problem(read)


def problem_to_json(problem: Problem) -> Json:
    """The `problem` part of a plan's JSON."""
    return {
        "tanks": {name: _tank_to_json(tank) for name, tank in problem.tanks.items()},
        "posted": [slot._asdict() for slot in problem.posted],
        "posted_days": problem.posted_days,
    }


def plan_to_json(problem: Problem, plan: Plan, servings: Sequence[Mapping[str, Any]] | None = None) -> Json:
    """A plan as JSON, checkable without the room.

    `servings` says for each slot, in the plan's order, what only the room knows: `amount`, `unit`, `amount_mg`,
    `method`, `why`. Without it, as where a bare problem was planned, these are null.
    """
    extras: Sequence[Mapping[str, Any]] = servings if servings is not None else [{}] * len(plan.slots)
    taken = parts(problem, plan.slots)
    cost = {name: getattr(plan.cost, name) for name in plan.cost.__slots__}
    return {
        "format": FORMAT,
        "start": problem.start.isoformat(),
        "days": problem.days,
        "problem": problem_to_json(problem),
        "servings": [
            _serving(problem, slot, taken[slot], extra) for slot, extra in zip(plan.slots, extras, strict=True)
        ],
        "cost": {**cost, "total": plan.cost.total},
        "bound": plan.bound,
    }


def _serving(problem: Problem, slot: Slot, part: float, extra: Mapping[str, Any]) -> Json:
    return {
        "day": slot.day,
        "date": (problem.start + timedelta(days=slot.day)).isoformat(),
        "round": problem.tanks[slot.tank].feeds[slot.feed].round,
        "tank": slot.tank,
        "feed": slot.feed,
        "part": part,
        **{key: extra.get(key) for key in ("amount", "unit", "amount_mg", "method", "why")},
    }


def _tank_to_json(tank: TankProblem) -> Json:
    return {
        "adults": list(tank.adults),
        "clocks": {name: _clock_to_json(clock) for name, clock in tank.clocks.items()},
        "feeds": {
            name: {key: getattr(feed, key) for key in _Feed.model_fields} | {"open": list(feed.open)}
            for name, feed in tank.feeds.items()
        },
    }


def _clock_to_json(clock: Clock) -> Json:
    plain = ("min_gap", "max_gap", "per_week", "overdue", "rotate")
    return {
        "feeds": list(clock.feeds),
        **{key: getattr(clock, key) for key in plain},
        "wanted": list(clock.wanted),
        "wanted_since": clock.wanted_since,
        "last": clock.last._asdict() if clock.last else None,
        "earlier_this_week": {"days": clock.earlier_days, "wanted": clock.earlier_wanted},
    }


def _problem(read: _Document) -> Problem:
    body = read.problem
    return Problem(
        read.start,
        read.days,
        {name: _tank(tank) for name, tank in body.tanks.items()},
        tuple(Slot(slot.day, slot.tank, slot.feed) for slot in body.posted),
        body.posted_days,
    )


def _tank(read: _Tank) -> TankProblem:
    feeds = {
        name: PlanFeed(**{**{key: getattr(feed, key) for key in _Feed.model_fields}, "open": tuple(feed.open)})
        for name, feed in read.feeds.items()
    }
    return TankProblem(tuple(read.adults), {name: _clock(clock) for name, clock in read.clocks.items()}, feeds)


def _clock(read: _Clock) -> Clock:
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


def _faults_between_keys(read: _Document) -> Iterator[ProblemFault]:
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


def _clock_faults(clock: _Clock, path: Path, read: _Document, tank: _Tank) -> Iterator[ProblemFault]:
    for place, feed in enumerate(clock.feeds):
        if feed not in tank.feeds or feed in clock.feeds[:place]:
            allowed = f"a feed of the tank, each once: {', '.join(tank.feeds) or 'none'}"
            yield ProblemFault((*path, "feeds", place), _shown(feed), allowed)
    if not clock.feeds:
        yield ProblemFault((*path, "feeds"), "an empty array", "one feed or more")
    yield from _day_faults(clock.wanted, (*path, "wanted"), read.days)
    today = 0 in clock.wanted
    if today is (clock.wanted_since is None):
        allowed = "a day up to 0, as day 0 is wanted" if today else "null, as day 0 is not wanted"
        yield ProblemFault((*path, "wanted_since"), _shown(clock.wanted_since), allowed)
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


def _fault(detail: ErrorDetails) -> ProblemFault:
    path: Path = tuple(step for step in detail["loc"] if step != "[key]")
    found = _shown(detail["input"])
    match detail["type"]:
        case "allowed":
            return ProblemFault(path, found, str(detail["ctx"]["allowed"]))
        case "missing":
            return ProblemFault(path, "nothing", "this key, which must be there")
        case "extra_forbidden":
            return _unknown_key(path)
        case "list_type":
            return ProblemFault(path, found, "an array")
        case _:
            return ProblemFault(path, found, "an object")


def _unknown_key(path: Path) -> ProblemFault:
    key = str(path[-1])
    known = sorted(_keys_beside(path))
    meant = get_close_matches(key, known, 1)
    hint = f" (did you mean {meant[0]}?)" if meant else ""
    return ProblemFault(path, f"the unknown key {_shown(key)}{hint}", ", ".join(known))


def _keys_beside(path: Path) -> set[str]:
    """The keys that are known where an unknown one was found."""
    models: dict[tuple[str, ...], type[BaseModel]] = {
        (): _Document,
        ("problem",): _Body,
        ("tanks",): _Tank,
        ("clocks",): _Clock,
        ("feeds",): _Feed,
        ("last",): _Last,
        ("earlier_this_week",): _Earlier,
        ("posted",): _Posted,
    }
    above = path[:-1]
    by_id = len(above) >= 2 and above[-2] in ("tanks", "clocks", "feeds", "posted")
    place = (str(above[-2]),) if by_id else (str(above[-1]),) if above else ()
    return set(models[place].model_fields)


def _shown(value: object) -> str:
    if value is None:
        return "null"
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, (dict, list)):
        return "an object" if isinstance(value, dict) else "an array"
    if isinstance(value, int) and abs(value) >= 10**_SHOWN:
        return f"a whole number of {math.floor(math.log10(abs(value))) + 1} digits"
    text = f'"{value}"' if isinstance(value, str) else str(value)
    return text if len(text) <= _SHOWN else text[:_SHOWN] + "…"
