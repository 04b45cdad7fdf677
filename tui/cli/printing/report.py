"""`rackround report`: a week beside the one before it, as text, JSON or a page."""

from __future__ import annotations

from argparse import Namespace
from collections.abc import Sequence
from dataclasses import asdict
from datetime import timedelta
from typing import Any, Final

from schedules.history.life import life_of
from schedules.ledger import Reason
from schedules.review.report import Week, last_of_week, monday_of, week_report
from schedules.review.report.shelf import ShelfWeek
from schedules.session.session import Session
from schedules.stock import stock_of
from schedules.wording.report.week import Section, heads, sections
from tui.cli.fault import OK, CommandFault
from tui.cli.options import Options
from tui.cli.out import say, say_json
from tui.cli.session import open_session
from tui.cli.stock.stock import feed_json

WEEK: Final = timedelta(days=7)
GAP: Final = 3
"""Blanks between two columns."""


def print_report(options: Options, asked: Namespace) -> int:
    """Print a week and the one before it; records nothing."""
    with open_session(options, "nothing") as session:
        monday = monday_of(asked.week or session.day - WEEK)
        if monday > session.day:
            raise CommandFault(f"--week {asked.week} lies ahead; today is {session.day}")
        weeks = _weeks(session, monday)
        found = sections(session.room, weeks)
        if asked.html is not None:
            from tui.cli.paper.report import write_report

            write_report(asked.html, session.room.name, heads(weeks), found)
        if asked.json:
            say_json(
                {"format": "rackround-report/1", "date": session.day.isoformat(), "weeks": list(map(_week, weeks))}
            )
        elif asked.html is not None:
            say(f"written: {asked.html}")
        else:
            _print(session.room.name, heads(weeks), found)
    return OK


def _weeks(session: Session, monday: Any) -> tuple[Week, ...]:
    """The week before, and the week itself."""
    history = session.reaching(monday - WEEK)
    life = life_of(session.ledger, session.file_room)
    now = session.clock()
    found = []
    for each in (monday - WEEK, monday):
        stock = stock_of(session.ledger, session.room, history, last_of_week(each, session.day))
        found.append(week_report(session.room, history, life, stock, each, now))
    return tuple(found)


def _print(name: str, columns: Sequence[str], found: Sequence[Section]) -> None:
    rows = [("", *columns), *(row for section in found for row in section.rows)]
    widths = [max(len(row[n]) for row in rows) + GAP for n in range(len(columns))]
    say(f"{name}: the week")
    say(_line(("", *columns), widths))
    for section in found:
        say()
        say(section.title)
        for row in section.rows:
            say(_line((f"  {row[0]}", *row[1:]), widths))


def _line(cells: Sequence[str], widths: Sequence[int]) -> str:
    padded = (cell.ljust(width) for cell, width in zip(cells, [widths[0] + 2, *widths[1:]], strict=False))
    return ("".join(padded) + cells[-1]).rstrip()


def _week(week: Week) -> dict[str, Any]:
    animals = week.animals
    return {
        "monday": week.monday.isoformat(),
        "days": week.days,
        "minutes": week.minutes,
        "rounds": [{**asdict(each), "day": each.day.isoformat(), "kept": each.kept} for each in week.rounds],
        "left_out": [{"because": _because(reason), "times": times} for reason, times in week.skipped.items()],
        "flags": [
            {"kind": kind, "severity": severity, "times": times} for (kind, severity), times in week.flags.items()
        ],
        "feed": [asdict(each) for each in week.delivered],
        "water": [asdict(each) for each in week.water],
        "hatches": [{"tank": tank, "day": day.isoformat(), "heads": heads} for tank, day, heads in animals.hatches],
        "counted": [{**asdict(each), "hatched": each.hatched.isoformat()} for each in animals.counted],
        "dead": animals.dead,
        "missing": animals.missing,
        "chores": [asdict(each) for each in week.chores],
        "stock": [_shelf(each) for each in week.stock],
    }


def _shelf(each: ShelfWeek) -> dict[str, Any]:
    return {
        "given": each.given,
        "came": each.came,
        "packs": [{"day": day.isoformat(), "lot": lot} for day, lot in each.opened],
        "then": feed_json(each.outlook),
    }


def _because(reason: Reason) -> dict[str, Any]:
    text = reason.get("text")
    return {"code": reason.code, "text": None if text is None else str(text)}
