"""`rackround chores` and `rackround did`: which chores are due where, and that one was done or left out."""

from __future__ import annotations

from argparse import Namespace
from collections.abc import Sequence
from datetime import date
from typing import Any

from schedules.chores import ChoreDue, due_at
from schedules.formatting import counted, date_text, minutes_text, number_text
from schedules.room import Room
from schedules.room.chores import Chore, ChorePlace
from schedules.session.session import Session
from schedules.wording.chores.chores import at_text, next_text, rule_text, settled_text, when_text, why_text
from tui.cli.fault import OK, CommandFault
from tui.cli.marks import ended
from tui.cli.options import Options
from tui.cli.out import say, say_json
from tui.cli.session import known, open_session


def print_chores(options: Options, asked: Namespace) -> int:
    """Print the chores of a day: what is due or was done, place by place, and what each chore is due by."""
    with open_session(options, "nothing") as session:
        day = asked.on or session.day
        if day > session.day and (day - session.day).days > MOST_AHEAD:
            raise CommandFault(f"--on {day.isoformat()} lies more than {MOST_AHEAD} days ahead")
        found = chores_of(session, day)
        if asked.json:
            say_json(chores_json(session.room, day, found))
            return OK
        _print(session.room, day, found)
    return OK


MOST_AHEAD = 366
"""Days ahead that chores are looked up for."""


def chores_of(session: Session, day: date) -> tuple[ChoreDue, ...]:
    """Everything due or marked on a day, in walking order of each chore."""
    history, room = session.reaching(min(day, session.day)), session.room
    found = [each for place in room.chores_at for each in due_at(room, history, session.day, day, place)]
    order = {chore.id: number for number, chore in enumerate(room.chores)}
    return tuple(sorted(found, key=lambda each: order[each.chore.id]))


def record_chore(options: Options, asked: Namespace) -> int:
    """Record that a chore was done, or with --because that it was left out, today or on a past day."""
    with open_session(options, "today") as session:
        if asked.on is not None and asked.on > session.day:
            raise CommandFault(f"--on {asked.on.isoformat()} lies ahead; today is {session.day.isoformat()}")
        chore = _chore_named(session.room, asked.chore)
        place = _place_named(chore, asked.place)
        return ended(session, session.did(chore.id, place, asked.because, day=asked.on))


def _chore_named(room: Room, name: str) -> Chore:
    return {chore.id: chore for chore in room.chores}[known(name, [chore.id for chore in room.chores], "chore")]


def _place_named(chore: Chore, name: str | None) -> ChorePlace:
    """The place of a chore that a word names; none is needed where the chore has one place."""
    places = {place.tank or place.rack or "": place for place in chore.places}
    if not places:
        raise CommandFault(f"the chore {chore.id} has no place in this room")
    if name is None and len(places) == 1:
        return next(iter(places.values()))
    what = "rack" if chore.places[0].rack else "tank"
    if name is None:
        raise CommandFault(f"{chore.id} is done {what} by {what}: name one, such as {next(iter(places))}")
    if "" in places:
        raise CommandFault(f"{chore.id} is a chore of the room; leave {name} out")
    return places[known(name, places, f"{what} with this chore")]


def _print(room: Room, day: date, found: Sequence[ChoreDue]) -> None:
    due = [each for each in found if each.state in ("due", "missed")]
    minutes = minutes_text(sum(each.chore.minutes for each in due))
    say(f"{room.name}, {date_text(day)} {day.year}: {counted(len(due), 'chore')} to do, {minutes}")
    if not room.chores:
        say("the room file has no [[chores]]")
    for chore in room.chores:
        here = [each for each in found if each.chore.id == chore.id]
        say()
        how_often = rule_text(chore.rule) if chore.rule else why_text(chore)
        say(f"{chore.name} ({chore.id}), {number_text(chore.minutes)} min, {how_often}")
        for each in here:
            say(f"  {at_text(room, each.place)}: {state_text(each)}")
        if not here:
            say("  nothing due")


def state_text(each: ChoreDue) -> str:
    """How a chore stands, and when its next turn comes."""
    if each.state in ("due", "missed"):
        missed = "missed, " if each.state == "missed" else ""
        return f"{missed}{when_text(each)}"
    by = each.marked.by if each.marked is not None and each.marked.by else "the program"
    reason = f" ({settled_text(each)})" if each.state == "skipped" else ""
    coming = next_text(each)
    return f"{each.state} by {by}{reason}" + (f"; {coming}" if coming else "")


def chore_text(each: ChoreDue) -> str:
    """A chore at its stop in one line."""
    return f"{each.chore.name}, {number_text(each.chore.minutes)} min. {state_text(each)}"


def chores_json(room: Room, day: date, found: Sequence[ChoreDue]) -> dict[str, Any]:
    """The chores of a day as the documented JSON."""
    return {
        "format": "rackround-chores/1",
        "date": day.isoformat(),
        "minutes": sum(each.chore.minutes for each in found if each.state in ("due", "missed")),
        "rules": [_rule_json(chore) for chore in room.chores],
        "chores": [chore_json(each) for each in found],
    }


def _rule_json(chore: Chore) -> dict[str, Any]:
    return {
        "id": chore.id,
        "name": chore.name,
        "rule": chore.rule,
        "every": chore.every,
        "when": chore.condition,
        "days": chore.days or None,
        "begins": None if chore.begins is None else chore.begins.isoformat(),
        "within": chore.within,
        "minutes": chore.minutes,
        "places": len(chore.places),
    }


def chore_json(each: ChoreDue) -> dict[str, Any]:
    """A chore at a place on a day."""
    return {
        "chore": each.chore.id,
        "name": each.chore.name,
        "tank": each.place.tank,
        "rack": each.place.rack,
        "minutes": each.chore.minutes,
        "state": each.state,
        "since": None if each.turn is None else each.turn.day.isoformat(),
        "last": None if each.turn is None else each.turn.last.isoformat(),
        "days_late": each.days_late,
        "next": None if each.next is None else each.next.isoformat(),
        "by": None if each.marked is None else each.marked.by,
        "text": state_text(each),
    }
