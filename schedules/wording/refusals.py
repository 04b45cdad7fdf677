"""Why a serving should not be given now, why one is due, what speaks against a sighting: one sentence each."""

from __future__ import annotations

from typing import Final

from schedules.formatting import clock_text, date_text, day_text, days_word, number_text
from schedules.ledger import Entry
from schedules.ledger.declaration import kind_of
from schedules.room import Room
from schedules.round.doses import Doses
from schedules.round.types import Refusal, Why
from schedules.session.doubts.animals import Doubt
from schedules.session.doubts.water import WaterDoubt
from schedules.wording.doses import given_text
from schedules.wording.entries import RoomNames, feed_name
from schedules.wording.needs import needed_text
from schedules.wording.water.doubts import water_doubt_text

TIMES: Final = ("", "", "twice", "three times", "four times", "five times", "six times", "seven times", "eight times")


def refusal_text(room: Room, refusal: Refusal, doses: Doses | None = None) -> str:
    """The rule that forbids a serving, and who gave what when. With `doses`, a mix is measured in mL."""
    match refusal.rule:
        case "again":
            return f"already given{_by(room, refusal.entry)}"
        case "min_gap" | "clock_gap":
            return _gap_text(room, refusal)
        case "leftovers" if refusal.on is not None and refusal.until is not None:
            left, since = feed_name(room, refusal.near), day_text(refusal.on, refusal.day)
            return f"most of {left} was left {since}; solid feed waits until {day_text(refusal.until, refusal.day)}"
    return _ration_text(room, refusal, doses)


def why_text(room: Room, why: Why) -> str:
    """Why a feed is due, in a few words."""
    texts = {
        "not_due": "given without being due",
        "no_feed": "posted this morning; no longer in the room file",
        "no_need": "posted this morning; nothing in the tank needs it any more",
    }
    said = texts.get(why.code) or _due_text(room, why)
    return f"{said}; draws the adults from the powder" if why.draws else said


def times_text(times: float) -> str:
    """A multiple: `twice`, `four times`, `1.5 times`."""
    whole = round(times)
    if abs(times - whole) < 0.05 and 2 <= whole < len(TIMES):
        return TIMES[whole]
    return f"{number_text(times)} times"


def _due_text(room: Room, why: Why) -> str:
    at_most = "" if why.max_gap is None else f", at most {why.max_gap}"
    when = "never given here yet" if why.days_ago is None else f"last {days_word(why.days_ago)} ago{at_most}"
    said = f"{needed_text(room, why.need)}: {when}"
    if why.per_week is None:
        return said
    days = "1 day" if why.per_week == 1 else f"{number_text(why.per_week)} days"
    return f"{said}; {why.this_week} of {days} this week"


def _gap_text(room: Room, refusal: Refusal) -> str:
    when = "" if refusal.on is None else f" {day_text(refusal.on, refusal.day)}"
    given = f"given{when}{_by(room, refusal.entry)}"
    if refusal.near != refusal.feed:
        given = f"{feed_name(room, refusal.near)} {given}, they take turns"
    return f"{given}; {days_word(refusal.gap)} apart at least"


def _ration_text(room: Room, refusal: Refusal, doses: Doses | None) -> str:
    asked = refusal.serving
    if asked is None:
        return "others already took today's ration"
    dose = given_text(room, doses, asked)
    if refusal.taken <= 0:
        return f"{dose} would be {times_text(refusal.part)} the day's ration"
    last = f", last{_by(room, refusal.entry)}" if refusal.entry else ""
    whole = number_text(refusal.taken + refusal.part)
    return f"{number_text(refusal.taken)} of the day's ration is taken{last}; {dose} more would make it {whole}"


def _by(room: Room, entry: Entry | None) -> str:
    return "" if entry is None else f" by {entry.by or 'the program'} at {clock_text(entry.at, room.zone)}"


def doubt_text(room: Room, doubt: Doubt | WaterDoubt) -> str:
    """What speaks against a sighting, or against a reading."""
    return water_doubt_text(room, doubt) if isinstance(doubt, WaterDoubt) else _sighting_text(room, doubt)


def _sighting_text(room: Room, doubt: Doubt) -> str:
    what = doubt.sighting
    said = kind_of(what).words(what, doubt.day, RoomNames(room))
    match doubt.kind:
        case "future":
            return f"{said}: {date_text(doubt.day)} {doubt.day.year} lies ahead"
        case "more_than_there":
            stage = what.stage.replace("_", " ")
            return f"{said}: only {doubt.there} {stage}{'' if doubt.there == 1 else 's'} are known to be there"
        case "quarantine":
            return f"{said}: {_quarantine_text(room, doubt)}"


def _quarantine_text(room: Room, doubt: Doubt) -> str:
    tank = room.tanks[doubt.sighting.tank]
    if tank.quarantine_days is None:
        return f"{tank.id} is a quarantine without an end (quarantine_days is not set){_also_ends(room)}"
    rule = f"the quarantine of {tank.id} lasts {days_word(tank.quarantine_days)} from the last animals that came in"
    if doubt.arrived is None or doubt.until is None:
        return f"{rule}, and no day on which any came is known{_also_ends(room)}"
    return f"{rule}, {date_text(doubt.arrived)}; it is over on {date_text(doubt.until)}{_also_ends(room)}"


def _also_ends(room: Room) -> str:
    return "" if room.quarantine.ends is None else f", and only if: {room.quarantine.ends}"
