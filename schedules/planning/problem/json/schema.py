"""What the JSON of a plan holds, key by key: the models that read it and what each value may be."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import date
from typing import Annotated, Any, Literal, get_args

from pydantic import BaseModel, BeforeValidator, ConfigDict
from pydantic_core import PydanticCustomError

from schedules.planning.problem.types import Table
from schedules.room.kinds import KINDS, Kind

FORMAT = "rackround-plan/2"
LONGEST_HORIZON = 90
LONGEST_GAP = 366
EARLIEST_DAY = -36500
"""A century before a plan: what is longer ago is a slip of the pen."""

Check = Callable[[Any], Any]


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


class Last(_Strict):
    """The last answer to a clock before the plan."""

    day: PastDay
    feed: Text


class Earlier(_Strict):
    """What a clock got in this week before the plan."""

    days: WeekDays
    wanted: WeekDays


class Clock(_Strict):
    """A clock of a tank."""

    feeds: list[Text]
    min_gap: Gap
    max_gap: LongestGap | None
    per_week: DaysAWeek | None
    overdue: Weight | None
    rotate: Truth
    wanted: list[Day]
    wanted_since: DayUpToNow | None
    last: Last | None
    earlier_this_week: Earlier


class Feed(_Strict):
    """A feed in a tank."""

    kind: Annotated[Kind, BeforeValidator(_choice(KINDS))]
    table: Annotated[Table, BeforeValidator(_choice(get_args(Table)))]
    round: Text
    draws: Truth
    min_gap: Gap
    share: Part
    most: Part
    minutes: Minutes
    open: list[Day]
    last: PastDay | None


class Tank(_Strict):
    """A tank."""

    adults: list[Day]
    clocks: dict[str, Clock]
    feeds: dict[str, Feed]


class Posted(_Strict):
    """A serving that was posted."""

    day: Day
    tank: Text
    feed: Text


class Body(_Strict):
    """The planning problem."""

    tanks: dict[str, Tank]
    posted: list[Posted]
    posted_days: PostedDays


class Document(_Strict):
    """The whole plan; of what was planned nothing is read."""

    format: Literal["rackround-plan/2"]
    start: Annotated[date, BeforeValidator(_date)]
    days: Horizon
    problem: Body
    servings: Any = None
    cost: Any = None
    bound: Any = None
