"""Who lives in a tank, what does not fit, and what is expected, in plain English."""

from __future__ import annotations

from datetime import date

from schedules.formatting import date_text, days_word
from schedules.history.life import Disagreement
from schedules.room import Presence, Room, Tank
from schedules.room.kinds import STAGES, Stage
from schedules.wording.entries import STAGE_TEXT, feed_name


def animals_text(here: Presence, day: date) -> str:
    """Animals of a tank on a day: how many, of which age, and for how long they hold."""
    text = f"{here.count} {stage_text(here.stage, here.count)}"
    if here.expected:
        return f"{text} expected, from {_span(here)}"
    notes = []
    if here.hatched is not None:
        notes.append(f"hatched {date_text(here.hatched)}, {days_word((day - here.hatched).days)} old")
    elif here.stage in ("shrimplet", "juvenile") and here.last is None:
        notes.append("of unknown age, so they stay at this stage until they are counted at another")
    if here.berried:
        notes.append(f"{here.berried} berried")
    if here.last is not None:
        notes.append(f"until {date_text(here.last)}")
    return f"{text} ({'; '.join(notes)})" if notes else text


def _span(here: Presence) -> str:
    first = "now" if here.first is None else date_text(here.first)
    return first if here.last is None else f"{first} to {date_text(here.last)}"


def stage_text(stage: Stage, count: int) -> str:
    """A stage's name for so many animals."""
    return STAGE_TEXT[stage][:-1] if count == 1 else STAGE_TEXT[stage]


def disagreement_text(each: Disagreement) -> str:
    """Two statements that do not fit, and which of them is counted on."""
    known = f"{each.known} {stage_text(each.stage, each.known)}"
    on = date_text(each.day)
    other = "" if each.other is None else date_text(each.other)
    match each.kind:
        case "count":
            return f"{on}: {each.seen.text} counted, {known} were known; the count holds"
        case "more_left":
            return f"{on}: {each.seen.text} {stage_text(each.stage, each.seen.number)} left, only {known} were known"
        case "hatch_foreseen":
            return (
                f"{on}: {each.seen.text} hatched; the room file has {known} from {other}, taken to be these. "
                "Take that line out of the file"
            )
        case "hatch_twice":
            return (
                f"{on}: {each.seen.text} hatched; the room file has {known} from {other}, both are counted. If they "
                "are the same, take that line out of the file"
            )


def tank_text(tank: Tank, day: date, line: str | None) -> str:
    """A tank with how many of each stage live in it, and its line."""
    counts = {stage: tank.count(stage, day) for stage in STAGES}
    generation = "" if tank.line is None or tank.generation is None else f", generation {tank.generation}"
    return f"{tank.label}: {heads_text(counts)}" + ("" if line is None else f" (line {line}{generation})")


def young_text(room: Room, feed: str, dose: str, key: str) -> str:
    """What is offered for a hatch that was seen today."""
    return f"Hatched today: {key} gives the young {feed_name(room, feed)}, {dose}; no fine feed is due"


def heads_text(counts: dict[Stage, int]) -> str:
    """How many of each stage, in one line."""
    listed = [f"{count} {stage_text(stage, count)}" for stage, count in counts.items() if count]
    return ", ".join(listed) or "no animals"
