"""`rackround returned`: the ticks of a helper's sheet, entered in a minute: all as planned, except what is named."""

from __future__ import annotations

from argparse import Namespace
from collections.abc import Sequence
from datetime import date
from typing import Final, get_args

from schedules.formatting import counted
from schedules.leave.ticks import HelperSheet, Place, Tick
from schedules.session.session import Session
from tui.cli.fault import OK, CommandFault
from tui.cli.marks import ended
from tui.cli.options import Options
from tui.cli.out import confirm
from tui.cli.session import known, open_session

_GIVEN: Final[Tick] = "given"
_LEFT: Final[Tick] = "left"
_CLOUDY: Final[Tick] = "cloudy"
WRITTEN: Final = "write DAY or DAY:TANK,TANK with DAY as 2026-12-03 or, within the days away, as 3"


def enter_sheet(options: Options, asked: Namespace) -> int:
    """Record every visit of the days away that is past or today, each day as one act.

    Nothing is posted before, so that today's plan counts on what the helper gave.
    """
    with open_session(options, "nothing") as session:
        sheet = session.helper_sheet(asked.first, asked.last)
        if sheet is None:
            raise CommandFault("no leave plan holds on these days; `rackround leave --post` accepts one")
        if not sheet.visits:
            span = f"from {sheet.first} to {sheet.last}"
            raise CommandFault(f"no visit {span} is open: nothing was due, or all of it is marked already")
        ticks = dict.fromkeys(sheet.visits, _GIVEN) | _exceptions(session, asked, sheet)
        outcome = session.enter_ticks(sheet, ticks, options.by)
        if not outcome.done:
            return ended(session, outcome)
        given, left, cloudy = (sum(each == tick for each in ticks.values()) for tick in get_args(Tick))
        said = f"{given} tanks given as planned, {left} left out, {cloudy} cloudy"
        confirm(f"entered for {options.by or sheet.helper}, {counted(outcome.count, 'day')}: {said}")
    return OK


def _exceptions(session: Session, asked: Namespace, sheet: HelperSheet) -> dict[Place, Tick]:
    """What did not go as planned; what is named as both counts as cloudy."""
    left = {place: _LEFT for text in asked.left for place in _places(session, text, sheet)}
    return left | {place: _CLOUDY for text in asked.cloudy for place in _places(session, text, sheet)}


def _places(session: Session, text: str, sheet: HelperSheet) -> list[Place]:
    """The visits that one exception names."""
    written, colon, tanks = text.partition(":")
    day = _day(written, sheet.days)
    here = [tank for on, tank in sheet.visits if on == day]
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
