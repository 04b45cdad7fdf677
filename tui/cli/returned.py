"""`rackround returned`: the ticks of a helper's sheet, entered in a minute: all as planned, except what is named."""

from __future__ import annotations

from argparse import Namespace
from collections.abc import Mapping, Sequence
from datetime import date
from typing import Final

from schedules.formatting import counted
from schedules.history import History
from schedules.leave.ticks import Place, Tick, entries_of, open_visits
from schedules.session.session import Session
from tui.cli.fault import OK, CommandFault
from tui.cli.marks import ended
from tui.cli.out import confirm
from tui.cli.session import Options, known, open_session

WRITTEN: Final = "write DAY or DAY:TANK,TANK with DAY as 2026-12-03 or, within the days away, as 3"


def enter_sheet(options: Options, asked: Namespace) -> int:
    """Record every visit of the days away that is past or today, each day as one act.

    Nothing is posted before, so that today's plan counts on what the helper gave.
    """
    with open_session(options, "nothing") as session:
        history = session.reaching(min(asked.first or session.day, session.history.first))
        first, last, helper = _span(history, session.day, asked)
        visits = open_visits(session.room, history, first, min(last, session.day))
        if not visits:
            raise CommandFault(
                f"no visit from {first} to {last} is open: nothing was due, or all of it is marked already"
            )
        session.by = options.by or helper
        ticks: dict[Place, Tick] = {}
        for tick, given in (("left", asked.left), ("cloudy", asked.cloudy)):
            for text in given:
                ticks |= dict.fromkeys(_places(session, text, visits), tick)  # type: ignore[arg-type]
        days = entries_of(history, visits, ticks)
        outcome = session.enter_ticks(days)
        if not outcome.done:
            return ended(session, outcome)
        left, cloudy = (sum(each == tick for each in ticks.values()) for tick in ("left", "cloudy"))
        given = len(visits) - left - cloudy
        said = f"{given} tanks given as planned, {left} left out, {cloudy} cloudy"
        confirm(f"entered for {session.by}, {counted(len(days), 'day')}: {said}")
    return OK


def _span(history: History, today: date, asked: Namespace) -> tuple[date, date, str]:
    """The days asked for, else those of the last leave plan that has begun, and its helper."""
    begun = [day for day in history.leave if day <= today]
    within = [day for day in begun if (asked.first or day) <= day <= (asked.last or day)]
    if not within:
        raise CommandFault("no leave plan holds on these days; `rackround leave --post` accepts one")
    held = history.leave[within[-1]]
    same = [day for day in within if history.leave[day].seq == held.seq]
    return asked.first or same[0], asked.last or same[-1], held.helper


def _places(session: Session, text: str, visits: Mapping[Place, Sequence[object]]) -> list[Place]:
    """The visits that one exception names."""
    written, colon, tanks = text.partition(":")
    day = _day(written, sorted({day for day, _ in visits}))
    here = [tank for on, tank in visits if on == day]
    named = [known(each.strip(), session.room.tanks, "tank") for each in tanks.split(",")] if colon else here
    for tank in named:
        if tank not in here:
            raise CommandFault(f'"{text}": nothing is open in {tank} on {day}')
    return [(day, tank) for tank in named]


def _day(written: str, days: Sequence[date]) -> date:
    if written.isascii() and written.isdigit():
        found = [day for day in days if day.day == int(written)]
    else:
        found = [day for day in days if day.isoformat() == written]
    if len(found) != 1:
        allowed = ", ".join(day.isoformat() for day in days)
        raise CommandFault(f'"{written}" is no day of an open visit, or of several; {WRITTEN}; open are {allowed}')
    return found[0]
