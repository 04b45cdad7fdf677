"""What an edited room file changes: in the room, and in the coming days' plan. Nothing is taken in here."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, timedelta
from typing import Any

from schedules.history import History
from schedules.planning.posting import plan_days
from schedules.room import Room

SHOWN = 6


def room_changes(old: Room, new: Room) -> list[str]:
    """The differences of two rooms, one line each."""
    lines = [*_of_kind("tank", old.tanks, new.tanks), *_of_kind("feed", old.feeds, new.feeds)]
    if old.walk != new.walk and set(old.walk) == set(new.walk):
        lines.append("the order of the walk is another one")
    for name, word in (
        ("rounds", "the rounds of a day"),
        ("keepers", "the keepers"),
        ("clocks", "how often the needs are answered"),
    ):
        if getattr(old, name) != getattr(new, name):
            lines.append(f"{word} were changed")
    same = ("name", "zone", "units", "appetite", "tools")
    lines += [
        f"{name.replace('zone', 'time zone')} was changed" for name in same if getattr(old, name) != getattr(new, name)
    ]
    return lines


def _of_kind(word: str, old: Mapping[str, Any], new: Mapping[str, Any]) -> list[str]:
    came = [each for each in new if each not in old]
    went = [each for each in old if each not in new]
    changed = [each for each in new if each in old and old[each] != new[each]]
    found = ((came, "new"), (went, "gone"), (changed, "changed"))
    return [
        f"{word}s {said}: {_names(each)}" if len(each) > 1 else f"{word} {said}: {each[0]}"
        for each, said in found
        if each
    ]


def _names(ids: list[str]) -> str:
    more = f" and {len(ids) - SHOWN} more" if len(ids) > SHOWN else ""
    return ", ".join(ids[:SHOWN]) + more


def plan_changes(room: Room, history: History, today: date) -> str:
    """How the plan from tomorrow on would differ from the one posted, in one line; today stays as posted."""
    problem, made = plan_days(room, history, today)
    posting = history.posting(today)
    posted = {
        (number, due.tank, due.feed)
        for number in range(problem.days)
        for due in (posting.due(today + timedelta(days=number)) if posting else ())
    }
    ahead = {each for each in posted if 0 < each[0] < problem.days}
    now = {(slot.day, slot.tank, slot.feed) for slot in made.slots if slot.day > 0}
    added, gone = len(now - ahead), len(ahead - now)
    return f"the plan of the coming {problem.days - 1} days: {added} servings come, {gone} go; today stays as posted"
