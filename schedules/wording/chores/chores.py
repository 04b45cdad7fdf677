"""Chores in plain English, for every door alike."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date
from typing import Final

from schedules.chores import ChoreDue
from schedules.formatting import counted, date_text, day_text, days_word
from schedules.ledger import ChoreMark, Reading
from schedules.room import Room
from schedules.room.chores import Chore, ChorePlace
from schedules.round import Stop
from schedules.wording.entries import place_text, reason_text

UNITS: Final = {"DAILY": "day", "WEEKLY": "week", "MONTHLY": "month", "YEARLY": "year"}
WEEKDAYS: Final = {"MO": "Mon", "TU": "Tue", "WE": "Wed", "TH": "Thu", "FR": "Fri", "SA": "Sat", "SU": "Sun"}


def stop_title(room: Room, stop: Stop) -> str:
    """What a stop is called: its tank, or the walk or rack whose chores it holds."""
    if stop.tank is not None:
        return room.tanks[stop.tank].label
    where = "the tanks" if stop.rack is None else place_text(room, None, stop.rack)
    return f"{stop.order.capitalize()} {'the quarantine tanks' if stop.quarantine else where}"


def stop_id(stop: Stop) -> str:
    """A stop in a word or two: its tank, else its rack, else the walk."""
    return stop.tank or stop.rack or stop.order


def at_text(room: Room, place: ChorePlace) -> str:
    """Where a chore is done."""
    return place_text(room, place.tank, place.rack)


def when_text(each: ChoreDue) -> str:
    """Since when a chore is due and until when it may be done, or what became of it."""
    if each.turn is None:
        return "was not due"
    if each.days_late:
        passed = f", {counted(each.passed, 'more turn')} since" if each.passed else ""
        return f"{days_word(each.days_late)} late, due since {date_text(each.turn.day)}{passed}"
    until = "" if each.turn.last <= each.on else f", until {date_text(each.turn.last)} at the latest"
    since = "due today" if each.turn.day >= each.on else f"due since {date_text(each.turn.day)}"
    return f"{since}{until}"


def why_text(chore: Chore) -> str:
    """What makes a chore due that has no calendar; nothing for one that has."""
    if chore.condition == "leftovers_twice":
        return "leftovers were reported twice running"
    if chore.condition == "tds_drift":
        return "the dissolved solids drifted"
    if chore.condition == "after_move_in":
        return f"{days_word(chore.days)} after animals came in"
    if chore.every is not None:
        return f"{days_word(chore.every)} after it was done"
    return ""


def rule_text(rule: str) -> str:
    """A recurrence rule (RFC 5545) in words where it is a plain one: `every 2 weeks on Mon`; else the rule itself."""
    parts = dict(part.split("=", 1) for part in rule.upper().split(";") if "=" in part)
    unit = UNITS.get(parts.pop("FREQ", ""))
    number, days = parts.pop("INTERVAL", "1"), parts.pop("BYDAY", "")
    if unit is None or parts or any(day not in WEEKDAYS for day in days.split(",") if days):
        return f"by the rule {rule}"
    every = f"every {unit}" if number == "1" else f"every {number} {unit}s"
    return every + (f" on {', '.join(WEEKDAYS[day] for day in days.split(','))}" if days else "")


def note_text(chore: Chore, today: date) -> str:
    """How a chore is done, who does it, and what the date on the standard's bottle says."""
    standard = ""
    if chore.best_before is not None:
        past = ": do not use it" if chore.best_before < today else ""
        standard = f"standard best before {date_text(chore.best_before)} {chore.best_before.year}{past}"
    by = f"by {' or '.join(chore.by)}" if chore.by else ""
    return " · ".join(part for part in (chore.note, by, standard) if part)


def next_text(each: ChoreDue) -> str:
    """When the turn after this one comes, and what being late does to it: it moves, or the calendar stays."""
    late = "" if each.turn is None else _late(each)
    if each.next is None:
        return f"{late}no turn after it" if each.chore.condition is None else ""
    coming = day_text(each.next, each.on)
    if not late:
        return f"next {coming}"
    if each.chore.every is not None:
        return f"{late}so the next moves to {coming}"
    return f"{late}the calendar stays: next {coming}"


def _late(each: ChoreDue) -> str:
    days = 0 if each.turn is None else max(0, (each.on - each.turn.last).days)
    return f"{days_word(days)} late, " if days else ""


def settled_text(each: ChoreDue) -> str:
    """Of a chore that was marked: done by what, or why it was left out."""
    if each.marked is None:
        return ""
    if isinstance(each.marked.what, ChoreMark):
        because = each.marked.what.because
        return "done" if because is None else reason_text(because)
    return "the water was read" if isinstance(each.marked.what, Reading) else "water was added"


def late_lines(room: Room, late: Sequence[ChoreDue]) -> Iterator[str]:
    """Chores that were missed: how many, then by what follows from it."""
    if not late:
        return
    yield f"{counted(len(late), 'chore')} late"
    for consequence, found in grouped(late):
        yield ""
        yield f"{consequence}:"
        for each in found:
            yield f"  {at_text(room, each.place)}: {each.chore.name}, {when_text(each)}"


def consequence_text(each: ChoreDue) -> str:
    """What follows from a chore that is late."""
    if each.chore.every is not None:
        return "Still due: the next turn counts from the day it is done"
    if each.chore.condition is not None:
        return "Still due: it waits for you"
    if each.passed:
        return "Still due, once: the turns that went by are not made up for"
    return "Still due: its calendar stays as it is"


def grouped(late: Sequence[ChoreDue]) -> list[tuple[str, list[ChoreDue]]]:
    """Late chores by what follows from it, the group with the longest wait first."""
    found: dict[str, list[ChoreDue]] = {}
    for each in late:
        found.setdefault(consequence_text(each), []).append(each)
    return list(found.items())
