"""Needs (clocks) in words, for every door alike."""

from __future__ import annotations

from typing import Final

from schedules.formatting import days_word, number_text
from schedules.review.missed import Missed
from schedules.room import ClockRules, Feed, Room, Tank
from schedules.room.needs import clocks_of
from schedules.wording.entries import feed_name

NEEDS: Final[dict[str, str]] = {
    "first_fine": "fine feed (first weeks)",
    "fine": "fine feed",
    "film": "film",
    "powder": "powder",
    "fan": "suspension",
    "ground": "food on the ground",
    "staple": "a staple",
    "protein": "protein",
    "greens": "greens",
    "mineral": "minerals",
}
"""The clocks of the table by what answers them."""


def need_name(room: Room, need: str) -> str:
    """A need by its id: of the table, of a feed with a clock of its own, or a feed itself."""
    return NEEDS.get(need) or feed_name(room, need.removeprefix("feed:"))


def waiting_text(room: Room, gap: Missed) -> str:
    """How long a tank has been waiting for what was missed: `no fine feed for 3 days, at most 2`."""
    name = need_name(room, gap.need)
    if gap.without is None:
        return f"{name} never given here"
    at_most = "" if gap.max_gap is None else f", at most {gap.max_gap}"
    return (
        f"{name} given today{at_most}"
        if gap.without == 0
        else f"no {name.removeprefix('a ')} for {days_word(gap.without)}{at_most}"
    )


def need_rules_text(room: Room, tank: Tank, feed: Feed) -> str:
    """The needs a feed answers in a tank and how often each is to be answered; empty where it answers none."""
    clocks = {name: clock for name, clock in clocks_of(room, tank).items() if feed.id in clock.feeds}
    return "; ".join(f"{need_name(room, name)}: {_often(clock.rules)}" for name, clock in clocks.items())


def _often(rules: ClockRules) -> str:
    said = []
    if rules.min_gap > 1:
        said.append(f"{days_word(rules.min_gap)} apart at least")
    if rules.max_gap is not None:
        said.append(f"{days_word(rules.max_gap)} at most")
    if rules.per_week is not None:
        said.append(f"{number_text(rules.per_week)} days a week")
    return ", ".join(said) or "takes turns"
