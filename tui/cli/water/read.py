"""`rackround read`: what was read in a tank's water, typed or from a meter's file."""

from __future__ import annotations

from argparse import Namespace
from collections.abc import Sequence
from datetime import date
from itertools import groupby
from pathlib import Path

from schedules.formatting import counted
from schedules.ledger import Reading
from schedules.session.session import Session
from schedules.water.derived import NoTemperature, at_25, settled
from schedules.water.meter_file import MeterFileFaults, readings_of
from schedules.wording.water.doubts import water_doubt_text
from tui.cli.fault import OK, CommandFault, FileFaults, Refused
from tui.cli.marks import ended
from tui.cli.options import Options
from tui.cli.out import confirm
from tui.cli.session import open_session, tank_named

INSIST = "--anyway records it all the same"


def record_readings(options: Options, asked: Namespace) -> int:
    """Record what was read; where a value looks like a slip, refuse, or record it with --anyway."""
    if (asked.csv is None) == (asked.tank is None):
        raise CommandFault("name a tank with QUANTITY=VALUE, such as a1 tds=180, or a meter's file with --csv FILE")
    with open_session(options, "today") as session:
        if asked.csv is not None:
            return _from_file(session, asked.csv, anyway=asked.anyway)
        return _typed(session, asked)


def _typed(session: Session, asked: Namespace) -> int:
    tank = tank_named(session.room, asked.tank)
    typed = dict(asked.values)
    if len(typed) < len(asked.values):
        raise CommandFault(f"{tank.id}: found a quantity twice, allowed is once")
    try:
        values = settled(session.room, session.history, tank.id, typed)
    except NoTemperature as fault:
        raise CommandFault(str(fault)) from None
    outcome = session.read_water(tank.id, values, day=asked.on, time=asked.at, anyway=asked.anyway)
    return ended(session, outcome, INSIST)


def _from_file(session: Session, path: Path, *, anyway: bool) -> int:
    """All readings of a file that the ledger does not hold yet, or none."""
    try:
        text = path.read_text(encoding="utf-8-sig")
    except OSError as error:
        raise CommandFault(f"{path}: cannot be read ({error.strerror})") from None
    except UnicodeDecodeError as error:
        raise CommandFault(f"{path}: found a byte that is no UTF-8 at {error.start}, allowed is a text file") from None
    found = _readings(session, path, text)
    new = session.unknown_readings(found)
    doubts = [] if anyway else session.doubts_about(new)
    if doubts:
        texts = [water_doubt_text(session.room, doubt) for doubt in doubts]
        raise Refused("\n".join([*texts, f"nothing of {path} was recorded ({INSIST})"]))
    days = 0
    for day, read in groupby(new, key=lambda each: each[0]):
        ended(session, session.record_readings(day, [reading for _, reading in read]))
        days += 1
    known = len(found) - len(new)
    undo = f"; rackround undo takes back one of the {days} days at a time, the latest first" if days > 1 else ""
    confirm(f"{path}: {counted(len(new), 'reading')} recorded, {known} known already{undo}")
    return OK


def _readings(session: Session, path: Path, text: str) -> Sequence[tuple[date, Reading]]:
    try:
        lines = readings_of(text, session.room, session.day)
    except MeterFileFaults as faults:
        raise FileFaults([f"{path}: {fault}" for fault in faults.faults]) from None
    found, wrong = [], []
    for line in lines:
        try:
            values = at_25(session.room, session.history, line.tank, dict(line.values))
        except NoTemperature as fault:
            wrong.append(f"{path}: line {line.line}: {fault}")
            continue
        found += [(line.day, Reading(line.tank, quantity, value, line.time)) for quantity, value in values.items()]
    if wrong:
        raise FileFaults(wrong)
    return found
