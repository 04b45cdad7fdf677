"""Why a feed is served on a day of the plan, or why it is not, in words."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from schedules.formatting import counted
from schedules.planning.explain import text
from schedules.room import Room
from schedules.session.plan_reasons import CellReason, Closed, StageChange
from schedules.wording.entries import STAGE_TEXT, due_text, how_text

CLOSED: Final[Mapping[Closed, str]] = {
    "nobody": "nobody here eats it on this day",
    "rest_day": "the tank's rest day, nothing on the ground",
    "day_off": "all keepers are off",
}


def served_text(room: Room, reason: CellReason) -> str:
    """How a feed is served on the day, empty where it is not."""
    return "" if reason.due is None else f"{due_text(room, reason.due)}, {how_text(room, reason.due)}"


def reason_texts(room: Room, reason: CellReason) -> tuple[str, ...]:
    """Why, or why not, the weightiest first."""
    names = {feed.id: feed.name for feed in room.feeds.values()}
    return (*(CLOSED[each] for each in reason.closed), *(text(each, names) for each in reason.reasons))


def stage_change_text(change: StageChange) -> str:
    """Animals that come on a day, or are no longer there."""
    stage = STAGE_TEXT[change.stage].removesuffix("s")
    return f"{counted(change.count, stage)} {'from this day' if change.came else 'until the day before'}"
