"""A planning problem and a plan as JSON, both ways, in the format `rackround-plan/1`.

Reading is strict: every key is there, none is unknown, and every number means something. The first fault found is
raised with its path inside the document, such as `problem.tanks.a1.feeds.greens.min_gap`.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from datetime import date, timedelta
from difflib import get_close_matches
from typing import Any, TypeVar, cast

from schedules.plan.types import Plan
from schedules.problem.types import GroupTask, LastOfGroup, Problem, Slot, TankFeed, TankProblem
from schedules.room.kinds import KINDS, Kind
from schedules.rules import CHURN_DAYS

FORMAT = "rackround-plan/1"
LONGEST_HORIZON = 90
LONGEST_GAP = 366

Json = dict[str, Any]
Path = tuple[str | int, ...]
Read = TypeVar("Read")

_FEED_KEYS = (
    *("kind", "group", "round", "min_gap", "max_gap", "per_week", "share", "minutes"),
    *("wanted", "wanted_since", "open", "last", "earlier_this_week"),
)
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


def problem_from_json(document: object) -> Problem:
    """The problem inside a plan's JSON; the servings, cost and bound beside it are not looked at."""
    top = _table(document, (), required=("format", "start", "days", "problem"), others=("servings", "cost", "bound"))
    if top["format"] != FORMAT:
        raise ProblemFault(("format",), _shown(top["format"]), f'"{FORMAT}"')
    start = _start(top["start"])
    days = _whole(top["days"], ("days",), 1, LONGEST_HORIZON)
    if days > (date.max - start).days:
        raise ProblemFault(("days",), str(days), f"a plan that ends before {date.max}")
    body = _table(top["problem"], ("problem",), required=("tanks", "posted"))
    reader = _Reader(start, days)
    path: Path = ("problem", "tanks")
    tanks = {name: reader.tank(value, (*path, name)) for name, value in _any_table(body["tanks"], path).items()}
    return Problem(start, days, tanks, _posted(body["posted"], ("problem", "posted")))


def problem_to_json(problem: Problem) -> Json:
    """The `problem` part of a plan's JSON."""
    return {
        "tanks": {name: _tank_to_json(tank) for name, tank in problem.tanks.items()},
        "posted": [slot._asdict() for slot in problem.posted],
    }


def plan_to_json(problem: Problem, plan: Plan, servings: Sequence[Mapping[str, Any]] | None = None) -> Json:
    """A plan as JSON, checkable without the room.

    `servings` says for each slot, in the plan's order, what only the room knows: `amount`, `unit`, `amount_mg`,
    `method`, `why`. Without it, as where a bare problem was planned, these are null.
    """
    extras: Sequence[Mapping[str, Any]] = servings if servings is not None else [{}] * len(plan.slots)
    cost = plan.cost
    return {
        "format": FORMAT,
        "start": problem.start.isoformat(),
        "days": problem.days,
        "problem": problem_to_json(problem),
        "servings": [_serving(problem, slot, extra) for slot, extra in zip(plan.slots, extras, strict=True)],
        "cost": {
            "overdue": cost.overdue,
            "unaccompanied": cost.unaccompanied,
            "weekly": cost.weekly,
            "repeat": cost.repeat,
            "longest_round": cost.longest_round,
            "churn": cost.churn,
            "total": cost.total,
        },
        "bound": plan.bound,
    }


def _serving(problem: Problem, slot: Slot, extra: Mapping[str, Any]) -> Json:
    feed = problem.tanks[slot.tank].feeds[slot.feed]
    return {
        "day": slot.day,
        "date": (problem.start + timedelta(days=slot.day)).isoformat(),
        "round": feed.round,
        "tank": slot.tank,
        "feed": slot.feed,
        "share": feed.share,
        **{key: extra.get(key) for key in ("amount", "unit", "amount_mg", "method", "why")},
    }


def _tank_to_json(tank: TankProblem) -> Json:
    return {
        "adults": list(tank.adults),
        "groups": {
            name: {"min_gap": group.min_gap, "last": group.last._asdict() if group.last else None}
            for name, group in tank.groups.items()
        },
        "feeds": {
            name: {
                "kind": feed.kind,
                "group": feed.group,
                "round": feed.round,
                "min_gap": feed.min_gap,
                "max_gap": feed.max_gap,
                "per_week": feed.per_week,
                "share": feed.share,
                "minutes": feed.minutes,
                "wanted": list(feed.wanted),
                "wanted_since": feed.wanted_since,
                "open": list(feed.open),
                "last": feed.last,
                "earlier_this_week": {"given": feed.given_this_week, "wanted": feed.wanted_this_week},
            }
            for name, feed in tank.feeds.items()
        },
    }


class _Reader:
    """Reads the tanks of one problem."""

    def __init__(self, start: date, days: int) -> None:
        self.days = days
        self.days_before = start.weekday()

    def tank(self, value: object, path: Path) -> TankProblem:
        keys = _table(value, path, required=("adults", "groups", "feeds"))
        groups = {
            name: self._group(group, (*path, "groups", name))
            for name, group in _any_table(keys["groups"], (*path, "groups")).items()
        }
        feeds = {
            name: self._feed(feed, (*path, "feeds", name), groups)
            for name, feed in _any_table(keys["feeds"], (*path, "feeds")).items()
        }
        return TankProblem(self._days(keys["adults"], (*path, "adults")), groups, feeds)

    def _group(self, value: object, path: Path) -> GroupTask:
        keys = _table(value, path, required=("min_gap", "last"))
        gap = _whole(keys["min_gap"], (*path, "min_gap"), 0, LONGEST_GAP)
        if keys["last"] is None:
            return GroupTask(gap, None)
        last = _table(keys["last"], (*path, "last"), required=("day", "feed"))
        day = _whole(last["day"], (*path, "last", "day"), None, -1)
        return GroupTask(gap, LastOfGroup(day, _text(last["feed"], (*path, "last", "feed"))))

    def _feed(self, value: object, path: Path, groups: Mapping[str, GroupTask]) -> TankFeed:
        keys = _table(value, path, required=_FEED_KEYS)
        group = _or_null(keys["group"], (*path, "group"), _text)
        if group is not None and group not in groups:
            raise ProblemFault((*path, "group"), _shown(group), f"null or a group of the tank: {_listed(groups)}")
        wanted = self._days(keys["wanted"], (*path, "wanted"))
        earlier = self._earlier(keys["earlier_this_week"], (*path, "earlier_this_week"))
        return TankFeed(
            kind=_kind(keys["kind"], (*path, "kind")),
            group=group,
            round=_text(keys["round"], (*path, "round")),
            min_gap=_whole(keys["min_gap"], (*path, "min_gap"), 0, LONGEST_GAP),
            max_gap=_whole(keys["max_gap"], (*path, "max_gap"), 1, LONGEST_GAP),
            per_week=_number(keys["per_week"], (*path, "per_week")),
            share=_number(keys["share"], (*path, "share")),
            minutes=_number(keys["minutes"], (*path, "minutes")),
            wanted=wanted,
            wanted_since=self._wanted_since(keys["wanted_since"], (*path, "wanted_since"), wanted),
            open=self._open(keys["open"], (*path, "open"), wanted),
            last=_or_null(keys["last"], (*path, "last"), lambda found, at: _whole(found, at, None, -1)),
            given_this_week=earlier[0],
            wanted_this_week=earlier[1],
        )

    def _earlier(self, value: object, path: Path) -> tuple[int, int]:
        keys = _table(value, path, required=("given", "wanted"))
        given = _whole(keys["given"], (*path, "given"), 0, None if self.days_before else 0)
        return given, _whole(keys["wanted"], (*path, "wanted"), 0, self.days_before)

    def _wanted_since(self, value: object, path: Path, wanted: tuple[int, ...]) -> int | None:
        today = bool(wanted) and wanted[0] == 0
        if value is None and not today:
            return None
        if today and value is not None:
            return _whole(value, path, None, 0)
        raise ProblemFault(path, _shown(value), "a day up to 0, as day 0 is wanted" if today else "null here")

    def _open(self, value: object, path: Path, wanted: tuple[int, ...]) -> tuple[int, ...]:
        days = self._days(value, path)
        known = set(wanted)
        for place, day in enumerate(days):
            if day not in known:
                raise ProblemFault((*path, place), str(day), "a day that is also wanted")
        return days

    def _days(self, value: object, path: Path) -> tuple[int, ...]:
        """Day numbers, ascending, each once."""
        found = _list(value, path)
        before = -1
        for place, day in enumerate(found):
            _whole(day, (*path, place), before + 1, self.days - 1)
            before = day
        return tuple(found)


def _posted(value: object, path: Path) -> tuple[Slot, ...]:
    slots: dict[Slot, None] = {}
    for place, item in enumerate(_list(value, path)):
        at: Path = (*path, place)
        keys = _table(item, at, required=("day", "tank", "feed"))
        slot = Slot(
            _whole(keys["day"], (*at, "day"), 0, CHURN_DAYS - 1),
            _text(keys["tank"], (*at, "tank")),
            _text(keys["feed"], (*at, "feed")),
        )
        if slot in slots:
            raise ProblemFault(at, f"{slot.feed} for {slot.tank} on day {slot.day} again", "each serving once")
        slots[slot] = None
    return tuple(slots)


def _start(value: object) -> date:
    text = _text(value, ("start",))
    try:
        found = date.fromisoformat(text)
    except ValueError:
        found = None
    if found is None or found.isoformat() != text:
        raise ProblemFault(("start",), _shown(value), "a date that exists, as 2026-11-25")
    return found


def _kind(value: object, path: Path) -> Kind:
    if value not in KINDS:
        raise ProblemFault(path, _shown(value), f"one of {_listed(KINDS)}")
    return value


def _any_table(value: object, path: Path) -> Json:
    if not isinstance(value, dict):
        raise ProblemFault(path, _shown(value), "an object")
    return value


def _table(value: object, path: Path, required: Sequence[str], others: Sequence[str] = ()) -> Json:
    found = _any_table(value, path)
    known = (*required, *others)
    for key in found:
        if key not in known:
            meant = get_close_matches(str(key), known, 1)
            hint = f" (did you mean {meant[0]}?)" if meant else ""
            raise ProblemFault((*path, str(key)), f"the unknown key {_shown(key)}{hint}", _listed(known))
    for key in required:
        if key not in found:
            raise ProblemFault((*path, key), "nothing", "this key, which must be there")
    return found


def _list(value: object, path: Path) -> list[Any]:
    if not isinstance(value, list):
        raise ProblemFault(path, _shown(value), "an array")
    return value


def _text(value: object, path: Path) -> str:
    if not isinstance(value, str) or not value:
        raise ProblemFault(path, _shown(value), "a text that is not empty")
    return value


def _or_null(value: object, path: Path, read: Callable[[object, Path], Read]) -> Read | None:
    return None if value is None else read(value, path)


def _whole(value: object, path: Path, least: int | None, most: int | None = None) -> int:
    inside = isinstance(value, int) and not isinstance(value, bool)
    if not inside or (least is not None and cast(int, value) < least) or (most is not None and cast(int, value) > most):
        raise ProblemFault(path, _shown(value), f"a whole number{_range(least, most)}")
    return cast(int, value)


def _range(least: int | None, most: int | None) -> str:
    if least is None:
        return "" if most is None else f" of {most} or less"
    return f" of {least} or more" if most is None else f" from {least} to {most}" if least <= most else ", but no more"


def _number(value: object, path: Path) -> float:
    right = isinstance(value, (int, float)) and not isinstance(value, bool)
    if not right or not math.isfinite(cast(float, value)) or cast(float, value) < 0:
        raise ProblemFault(path, _shown(value), "a number of 0 or more")
    return cast(float, value)


def _shown(value: object) -> str:
    if value is None:
        return "null"
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, (dict, list)):
        return "an object" if isinstance(value, dict) else "an array"
    text = f'"{value}"' if isinstance(value, str) else str(value)
    return text if len(text) <= _SHOWN else text[:_SHOWN] + "…"


def _listed(words: Sequence[str] | Mapping[str, object]) -> str:
    return ", ".join(words) or "none"
