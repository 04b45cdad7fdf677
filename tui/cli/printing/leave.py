"""`rackround leave`: the days away planned for a helper, what they cost, what must be ready, sheets and labels."""

from __future__ import annotations

from argparse import Namespace
from dataclasses import asdict
from datetime import date, timedelta
from pathlib import Path
from typing import Any

from schedules.formatting import clean, counted, date_text, minutes_text
from schedules.history.leave import MOST_LEAVE_DAYS
from schedules.leave import LeaveCost, LeavePlan, RackDay, cost_of, leave_plan, rack_days
from schedules.leave.cost import day_minutes, normal_days
from schedules.session.session import Session
from schedules.wording.leave.cost import cost_lines, ready_lines
from schedules.wording.outcomes import outcome_text
from tui.cli.fault import OK, CommandFault
from tui.cli.marks import ended
from tui.cli.options import Options
from tui.cli.out import confirm, say, say_json
from tui.cli.session import open_session, plan_coming_days


def plan_leave(options: Options, asked: Namespace) -> int:
    """Plan the days away; with --post accept the plan, with --withdraw let the normal plan hold again."""
    with open_session(options, "today") as session:
        if asked.withdraw:
            return _withdraw(session)
        helper = _check(session, asked)
        plan_coming_days(session, "the coming weeks are being planned, which takes some seconds")
        room, history, today = session.room, session.history, session.day
        plan = leave_plan(room, history, today, asked.first, asked.last)
        cost = cost_of(room, history, today, plan, normal_days(room, history, today, asked.first, asked.last))
        found = rack_days(room, plan)
        replaced = sum(plan.first <= day <= plan.last for day in history.leave)
        written = _write_papers(session, asked, helper, plan, found)
        outcome = session.accept_leave(helper, plan) if asked.post else None
        if outcome is not None and not outcome.done:
            return ended(session, outcome)
        if asked.json:
            say_json(_document(session, helper, plan, cost, posted=outcome is not None))
            return OK
        _print(session, helper, plan, cost, found)
        if replaced:
            say(f"An earlier leave plan covers {counted(replaced, 'day')} of these; a newer one holds on them.")
        for path in written:
            say(f"written: {path}")
        if outcome is None:
            say("not accepted yet: --post makes it what is due on these days")
        else:
            confirm(outcome_text(room, outcome))
    return OK


def _withdraw(session: Session) -> int:
    coming = [day for day in session.history.leave if day >= session.day]
    if not coming:
        raise CommandFault("no leave plan holds today or on a later day, so there is nothing to withdraw")
    return ended(session, session.end_leave(coming[0]))


def _check(session: Session, asked: Namespace) -> str:
    """The helper's name; a fault where what was asked makes no leave plan."""
    for name, value in (("--from", asked.first), ("--to", asked.last), ("--helper", asked.helper)):
        if value is None:
            raise CommandFault(f"{name} is missing; a leave plan needs --from DATE, --to DATE and --helper NAME")
    if asked.first < session.day:
        raise CommandFault(f"--from {asked.first} lies behind; allowed is today, {session.day}, or later")
    if not asked.first <= asked.last < asked.first + timedelta(days=MOST_LEAVE_DAYS):
        latest = asked.first + timedelta(days=MOST_LEAVE_DAYS - 1)
        raise CommandFault(f"--to {asked.last} is not from {asked.first} to {latest}, {MOST_LEAVE_DAYS} days at most")
    name = clean(asked.helper)[:80]
    if not name:
        raise CommandFault("--helper has no name in it")
    return name


def _write_papers(
    session: Session, asked: Namespace, helper: str, plan: LeavePlan, found: tuple[RackDay, ...]
) -> list[Path]:
    """Write the sheets and labels asked for."""
    if asked.sheet is None and asked.labels is None:
        return []
    # Imported here and not above: only these files need what prints them.
    from tui.cli.paper.leave import write_labels, write_sheet

    paper = asked.paper or ("letter" if session.room.units.us else "a4")
    if asked.sheet is not None:
        write_sheet(asked.sheet, session.room, helper, plan, found, paper, session.clock())
    if asked.labels is not None:
        people = f"{session.by} for {helper}"
        write_labels(asked.labels, session.room, people, found, paper, session.clock())
    return [path for path in (asked.sheet, asked.labels) if path is not None]


def _print(session: Session, helper: str, plan: LeavePlan, cost: LeaveCost, found: tuple[RackDay, ...]) -> None:
    say(f"Leave plan for {helper}, {date_text(plan.first)} to {date_text(plan.last)}")
    for visit in plan.visits:
        due = plan.due(visit)
        tanks = counted(len({each.tank for each in due}), "tank")
        say(f"  {date_text(visit)}: {counted(len(due), 'serving')} in {tanks}, {minutes_text(_minutes(session, due))}")
    say()
    say("What it costs the animals:")
    for line in cost_lines(session.room, plan, cost):
        say(f"  {line}")
    say()
    say("Ready before leaving:")
    for line in ready_lines(session.room, plan, found, session.stock()):
        say(f"  [ ] {line}")


def _minutes(session: Session, due: Any) -> float:
    return day_minutes(session.room, due)


def _document(session: Session, helper: str, plan: LeavePlan, cost: LeaveCost, *, posted: bool) -> dict[str, Any]:
    return {
        "format": "rackround-leave/1",
        "date": session.day.isoformat(),
        "helper": helper,
        "first": plan.first.isoformat(),
        "last": plan.last.isoformat(),
        "posted": posted,
        "visits": [_visit(session, plan, day) for day in plan.visits],
        "cost": {
            "minutes": cost.minutes,
            "longest_visit": cost.longest_visit,
            "usual_minutes": cost.usual_minutes,
            "longest_usual": cost.longest_usual,
            "left_out": list(cost.left_out),
            "undrawn": [{"tank": tank, "visits": visits} for tank, visits in cost.undrawn.items()],
            "usual_undrawn": cost.usual_undrawn,
            "tables": [asdict(each) for each in cost.tables],
        },
    }


def _visit(session: Session, plan: LeavePlan, day: date) -> dict[str, Any]:
    due = plan.due(day)
    return {
        "date": day.isoformat(),
        "minutes": _minutes(session, due),
        "servings": [asdict(each) for each in due],
    }
