"""Needs (clocks) in words, for every door alike."""

from __future__ import annotations

from schedules.formatting import days_word, need_name, number_text
from schedules.review.missed import Missed
from schedules.room import ClockRules, Feed, Room, Tank
from schedules.room.needs import clocks_of


def needed_text(room: Room, need: str) -> str:
    """A need by its id: of the table, or of a single feed."""
    return need_name(need, {feed.id: feed.name for feed in room.feeds.values()})


def waiting_text(room: Room, gap: Missed) -> str:
    """How long a tank has been waiting for what was missed: `no fine feed for 3 days, at most 2`."""
    name = needed_text(room, gap.need).removeprefix("a ")
    if gap.without is None:
        return f"no {name} since it was entered"
    at_most = "" if gap.max_gap is None else f", at most {gap.max_gap}"
    return f"{name} given today{at_most}" if gap.without == 0 else f"no {name} for {days_word(gap.without)}{at_most}"


def waited_text(gap: Missed) -> str:
    """The same without the need, for a narrow column: `3 days, at most 2`."""
    if gap.without is None:
        return "never given"
    return f"{days_word(gap.without)}{'' if gap.max_gap is None else f', at most {gap.max_gap}'}"


def need_rules_text(room: Room, tank: Tank, feed: Feed) -> str:
    """The needs a feed answers in a tank and how often each is to be answered; empty where it answers none."""
    clocks = {name: clock for name, clock in clocks_of(room, tank).items() if feed.id in clock.feeds}
    return "; ".join(f"{needed_text(room, name)}: {_often(clock.rules)}" for name, clock in clocks.items())


def _often(rules: ClockRules) -> str:
    said = []
    if rules.min_gap > 1:
        said.append(f"{days_word(rules.min_gap)} apart at least")
    if rules.max_gap is not None:
        said.append(f"{days_word(rules.max_gap)} at most")
    if rules.per_week is not None:
        said.append(f"{number_text(rules.per_week)} days a week")
    return ", ".join(said) or "takes turns"
