"""`rackround round`: the round sheet as text or JSON."""

from __future__ import annotations

import sys
from argparse import Namespace
from collections.abc import Mapping, Sequence
from datetime import date
from typing import Any

from schedules.formatting import clock_text, date_text, method_text, minutes_text
from schedules.history import History
from schedules.history.history import history_of
from schedules.planning.horizon import goes_on
from schedules.review.flags import Flag, flags
from schedules.room import Room
from schedules.round import RoundServing, RoundSheet, Stop, current_round, round_sheet
from schedules.round.doses import Doses, mix_round
from schedules.wording.amounts import remaining_text
from tui.cli.fault import OK, CommandFault
from tui.cli.flags import flag_json
from tui.cli.out import say, say_json, warn
from tui.cli.session import Options, Session, known, open_session


def print_round(options: Options, asked: Namespace) -> int:
    """Print the sheet of the day and round asked for, after posting today's plan where it was not yet.

    Nobody waits for the coming days who did not ask for them: they are planned and posted when the sheet is out.
    """
    with open_session(options) as session:
        day = asked.on or session.today
        history = history_for(session, day)
        round_id = _round(session, asked.round, day)
        sheet = round_sheet(session.room, history, session.today, day, round_id)
        if not sheet.posted:
            raise CommandFault(f"no plan was posted for {day.isoformat()}; {_reach(history, session.today)}")
        by_tank = _flags_by_tank(flags(session.room, history, session.now))
        if asked.json:
            say_json(sheet_json(sheet, by_tank))
        else:
            doses = mix_round(session.room, history, day, round_id)
            _print_sheet(session.room, sheet, doses, by_tank)
        if not goes_on(history.posting(session.today), session.today):
            sys.stdout.flush()
            if sys.stderr.isatty():  # a prompt that does not come back at once wants a word
                warn("rackround: the round stands; the coming weeks are being planned")
            session.history(post=True)
    return OK


def history_for(session: Session, day: date) -> History:
    """The history as of today, reaching back far enough for the day asked for."""
    history = session.history(post=True, at_once=day <= session.today)
    if history.first <= day:
        return history
    return history_of(session.ledger, session.today, look_back=(session.today - day).days)


def _round(session: Session, asked: str | None, day: date) -> str:
    names = [walk.id for walk in session.room.rounds]
    if asked is not None:
        return known(asked, names, "round")
    return current_round(session.room, session.now) if day == session.today else names[0]


def _reach(history: History, today: date) -> str:
    posting = history.posting(today)
    if posting is None:
        return "nothing is posted yet"
    first = min(each.start for each in history.postings)
    last = posting.start.fromordinal(posting.start.toordinal() + len(posting.days) - 1)
    return f"postings reach from {first.isoformat()} to {last.isoformat()}"


def _flags_by_tank(found: Sequence[Flag]) -> dict[str, list[Flag]]:
    by_tank: dict[str, list[Flag]] = {}
    for flag in found:
        by_tank.setdefault(flag.tank, []).append(flag)
    return by_tank


def sheet_json(sheet: RoundSheet, by_tank: Mapping[str, Sequence[Flag]]) -> dict[str, Any]:
    """The sheet as the documented JSON."""
    return {
        "date": sheet.day.isoformat(),
        "round": sheet.round,
        "stops": [
            {
                "tank": stop.tank,
                "servings": [_serving_json(serving) for serving in stop.servings],
                "flags": [flag_json(flag) for flag in by_tank.get(stop.tank, ())],
            }
            for stop in sheet.stops
        ],
    }


def _serving_json(serving: RoundServing) -> dict[str, Any]:
    due = serving.due
    return {
        "feed": due.feed,
        "amount": due.amount,
        "unit": due.unit,
        "amount_mg": due.amount_mg,
        "method": due.method,
        "part": due.part,
        "state": serving.state,
        "why": serving.why if serving.held is None else f"{serving.why}; hold back: {serving.held.text}",
    }


def _print_sheet(room: Room, sheet: RoundSheet, doses: Doses, by_tank: Mapping[str, Sequence[Flag]]) -> None:
    servings = sum(len(stop.servings) for stop in sheet.stops)
    say(f"{room.name}, {date_text(sheet.day)} {sheet.day.year}, {sheet.round} round")
    left = minutes_text(sheet.minutes_left)
    say(f"{len(sheet.stops)} stops, {servings} servings, {sheet.done} stops done, {left} left")
    for number, stop in enumerate(sheet.stops, 1):
        _print_stop(room, number, stop, doses, by_tank.get(stop.tank, ()))


def _print_stop(room: Room, number: int, stop: Stop, doses: Doses, found: Sequence[Flag]) -> None:
    tank = room.tanks[stop.tank]
    quarantine = ", quarantine: own tools, last" if tank.quarantine else ""
    say()
    say(f"{number}. {tank.id} {tank.name} ({tank.rack}, {tank.place}{quarantine})")
    for serving in stop.servings:
        say(f"   {serving.feed_name}: {_how_text(doses, serving)}. {_state_text(room, serving)}")
        say(f"     {serving.why}")
        if serving.shrunk is not None:
            say(f"     less than planned: {remaining_text(room, serving.due.feed, serving.shrunk)}")
        if serving.held is not None:
            say(f"     hold back: {serving.held.text}")
    for flag in found:
        say(f"   flag: {flag.evidence}. {flag.advice}")


def _how_text(doses: Doses, serving: RoundServing) -> str:
    """How much, of the mix or by the measure, and how it is given."""
    taken = doses.taken(serving.due)
    weight = f" ({taken.mg})" if taken.mg else ""
    mix = " of the mix" if taken.mixed else ""
    vessel = f" with the {taken.vessel}" if taken.vessel else ""
    return f"{taken.amount}{mix}{weight}{vessel}, {method_text(serving.due.method, mixed=taken.mixed)}"


def _state_text(room: Room, serving: RoundServing) -> str:
    if serving.marked is None:
        return serving.state
    return f"{serving.state} {clock_text(serving.marked.at, room.zone)} {serving.marked.by or ''}".rstrip()
