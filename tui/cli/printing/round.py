"""`rackround round`: the round sheet as text or JSON."""

from __future__ import annotations

from argparse import Namespace
from collections.abc import Mapping, Sequence
from datetime import date
from typing import Any

from schedules.amounts import DrawOff
from schedules.formatting import clock_text, counted, date_text, method_text, minutes_text
from schedules.history import History
from schedules.review.flags import Flag
from schedules.room import Room
from schedules.round import RoundServing, RoundSheet, Stop
from schedules.round.doses import Doses, mix_round
from schedules.session.session import Session
from schedules.wording.amounts import draw_off_text, remaining_text
from schedules.wording.chores.chores import note_text, stop_title
from schedules.wording.doses import taken
from schedules.wording.flags import advice_text, evidence_text
from schedules.wording.refusals import refusal_text, why_text
from tui.cli.fault import OK, CommandFault
from tui.cli.options import Options
from tui.cli.out import finish_printing, say, say_json
from tui.cli.printing.chores import chore_json, chore_text
from tui.cli.printing.flags import flag_json
from tui.cli.session import known, open_session, plan_coming_days


def print_round(options: Options, asked: Namespace) -> int:
    """Print the sheet of the day and round asked for, after posting today's plan where it was not yet.

    Nobody waits for the coming days who did not ask for them: they are planned and posted when the sheet is out.
    """
    with open_session(options, "today") as session:
        day = asked.on or session.day
        if day > session.day:
            plan_coming_days(session, "the coming weeks are planned first, which takes some seconds")
        round_id = _round(session, asked.round, day)
        sheet = session.sheet if (day, round_id) == (session.day, session.round) else session.sheet_of(day, round_id)
        if not sheet.posted:
            raise CommandFault(f"no plan was posted for {day.isoformat()}; {_reach(session.history, session.day)}")
        by_tank = _flags_by_tank(session.flags())
        if asked.json:
            say_json(sheet_json(session.room, sheet, by_tank))
        else:
            doses = mix_round(session.room, session.reaching(day), day, round_id)
            _print_sheet(session.room, sheet, doses, by_tank)
        finish_printing()
        plan_coming_days(session, "this is the round; the coming weeks are being planned")
    return OK


def _round(session: Session, asked: str | None, day: date) -> str:
    names = [walk.id for walk in session.room.rounds]
    if asked is not None:
        return known(asked, names, "round")
    return session.round if day == session.day else names[0]


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


def sheet_json(room: Room, sheet: RoundSheet, by_tank: Mapping[str, Sequence[Flag]]) -> dict[str, Any]:
    """The sheet as the documented JSON."""
    return {
        "format": "rackround-round/1",
        "date": sheet.day.isoformat(),
        "round": sheet.round,
        "stops": [
            {
                "tank": stop.tank,
                "rack": None if stop.tank is not None else stop.rack,
                "walk": stop.order,
                "draw_off": None if stop.draw_off is None else _draw_off_json(room, stop.draw_off),
                "servings": [_serving_json(room, serving) for serving in stop.servings],
                "chores": [chore_json(each) for each in stop.chores],
                "flags": [flag_json(room, flag) for flag in by_tank.get(stop.tank or "", ())],
            }
            for stop in sheet.stops
        ],
    }


def _draw_off_json(room: Room, found: DrawOff) -> dict[str, Any]:
    """What goes in first, None where nothing that draws is due, and for how many adults."""
    return {
        "feed": found.feed,
        "pieces": found.pieces,
        "adults": found.adults,
        "text": draw_off_text(room, found),
    }


def _serving_json(room: Room, serving: RoundServing) -> dict[str, Any]:
    due = serving.due
    return {
        "feed": due.feed,
        "amount": due.amount,
        "unit": due.unit,
        "amount_mg": due.amount_mg,
        "method": due.method,
        "part": due.part,
        "state": serving.state,
        "why": _why_text(room, serving),
    }


def _why_text(room: Room, serving: RoundServing) -> str:
    held = "" if serving.held is None else f"; hold back: {refusal_text(room, serving.held)}"
    return f"{why_text(room, serving.why)}{held}"


def _print_sheet(room: Room, sheet: RoundSheet, doses: Doses, by_tank: Mapping[str, Sequence[Flag]]) -> None:
    servings = sum(len(stop.servings) for stop in sheet.stops)
    say(f"{room.name}, {date_text(sheet.day)} {sheet.day.year}, {sheet.round} round")
    left = minutes_text(sheet.minutes_left)
    stops = counted(len(sheet.stops), "stop")
    chores = sum(len(stop.chores) for stop in sheet.stops)
    beside = f", {counted(chores, 'chore')}" if chores else ""
    say(f"{stops}, {counted(servings, 'serving')}{beside}, {counted(sheet.done, 'stop')} done, {left} left")
    for number, stop in enumerate(sheet.stops, 1):
        _print_stop(room, number, stop, doses, by_tank.get(stop.tank or "", ()))


def _print_stop(room: Room, number: int, stop: Stop, doses: Doses, found: Sequence[Flag]) -> None:
    say()
    say(f"{number}. {_title(room, stop)}")
    if stop.draw_off is not None:
        say(f"   {draw_off_text(room, stop.draw_off)}")
    for serving in stop.servings:
        say(f"   {serving.feed_name}: {_how_text(doses, serving)}. {_state_text(room, serving)}")
        say(f"     {why_text(room, serving.why)}")
        if serving.shrunk is not None:
            say(f"     less than planned: {remaining_text(room, serving.due.feed, serving.shrunk)}")
        if serving.held is not None:
            say(f"     hold back: {refusal_text(room, serving.held, doses)}")
    for each in stop.chores:
        say(f"   chore: {chore_text(each)}")
        if note := note_text(each.chore, each.on):
            say(f"     {note}")
    for flag in found:
        say(f"   flag: {evidence_text(room, flag)}. {advice_text(room, flag)}")


def _title(room: Room, stop: Stop) -> str:
    if stop.tank is None:
        return stop_title(room, stop)
    tank = room.tanks[stop.tank]
    quarantine = ", quarantine: own tools, last" if tank.quarantine else ""
    where = ", ".join(filter(None, (tank.rack, tank.place)))
    return f"{tank.label} ({where}{quarantine})"


def _how_text(doses: Doses, serving: RoundServing) -> str:
    """How much, of the mix or by the measure, and how it is given."""
    found = taken(doses, serving.due)
    weight = f" ({found.mg})" if found.mg else ""
    mix = " of the mix" if found.mixed else ""
    vessel = f" with the {found.vessel}" if found.vessel else ""
    return f"{found.amount}{mix}{weight}{vessel}, {method_text(serving.due.method, mixed=found.mixed)}"


def _state_text(room: Room, serving: RoundServing) -> str:
    if serving.marked is None:
        return serving.state
    return f"{serving.state} {clock_text(serving.marked.at, room.zone)} {serving.marked.by or ''}".rstrip()
