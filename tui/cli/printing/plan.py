"""`rackround plan`: the plan of the coming days, or a trial plan, as text or JSON."""

from __future__ import annotations

import json
from argparse import Namespace
from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import timedelta
from itertools import groupby
from pathlib import Path
from typing import Any, Final

from schedules.formatting import counted, date_text, days_word, minutes_text
from schedules.history import history_of
from schedules.history.leave import with_leave
from schedules.ledger import PostedServing
from schedules.planning.explain import texts, why
from schedules.planning.horizon import HORIZON_DAYS
from schedules.planning.posting import plan_days, servings_of
from schedules.planning.problem.build import build_problem
from schedules.planning.problem.costs import cost
from schedules.planning.problem.json import ProblemFault, plan_to_json, problem_from_json
from schedules.planning.problem.types import Plan, Problem, Slot
from schedules.planning.search import plan
from schedules.room import Room
from schedules.session.session import Session
from schedules.wording.entries import due_text, feed_name, how_text
from tui.cli.fault import OK, CommandFault
from tui.cli.options import Options
from tui.cli.out import said_when_slow, say, say_json
from tui.cli.session import open_session, plan_coming_days

MOST_TANKS: Final = 5000
"""Of a problem that is planned without its room; a room has no more either."""
LARGEST_PROBLEM: Final = 128 * 1024**2
"""Bytes of a problem's file; four weeks of 5,000 tanks take 100 million."""
MOST_REASONS: Final = 2
"""Reasons that are printed beside a serving, the most pressing first."""


def print_plan(options: Options, asked: Namespace) -> int:
    """Plan the coming days of a room, or the problem inside a plan's JSON, and print it."""
    if asked.problem is not None:
        return _plan_problem(asked.problem, asked.json)
    if not options.room_file.name:
        raise CommandFault("name a room file, or a plan's JSON with --problem")
    if asked.start is None and asked.days is None:
        return _posted_plan(options, asked.json)
    return _trial_plan(options, asked)


def _posted_plan(options: Options, as_json: bool) -> int:
    """Print the plan in force, the one that the round sheets are taken from; what is not posted yet is posted first."""
    with open_session(options, "today") as session:
        plan_coming_days(session, "the coming weeks are being planned, which takes some seconds")
        posting = session.ledger.posting(session.day)
        assert posting is not None
        days = with_leave(posting, session.history.leave).days[(session.day - posting.start).days :]
        _print(session.room, *_as_planned(session, days), as_json)
    return OK


def _as_planned(
    session: Session, days: Sequence[Sequence[PostedServing]]
) -> tuple[Problem, Plan, tuple[PostedServing, ...]]:
    """The problem of this morning and the posted days as its plan, with the servings in the order of the plan's."""
    entries = tuple(entry for entry in session.history.entries if entry.day < session.day)
    problem = build_problem(session.room, replace(session.history, entries=entries), session.day, len(days))
    posted = {
        Slot(number, due.tank, due.feed): due
        for number, of_day in enumerate(days)
        for due in of_day
        if due.tank in problem.tanks and due.feed in problem.tanks[due.tank].feeds
    }
    slots = tuple(sorted(posted))
    return problem, Plan(slots, cost(problem, slots), None), tuple(posted[slot] for slot in slots)


def _trial_plan(options: Options, asked: Namespace) -> int:
    """Plan other days than those posted, from nothing, and print that; posts nothing."""
    with open_session(options, "nothing") as session:
        start = asked.start or session.day
        if start < session.day:
            raise CommandFault(f"--start {start.isoformat()} is past; what was due then is what was posted then")
        ahead = (start - session.day).days + 6
        history = history_of(session.ledger, session.day, ahead=ahead)
        problem, made = plan_days(session.room, history, start, asked.days or HORIZON_DAYS, session.day)
        servings = servings_of(session.room, history, problem, made.slots)
        _print(session.room, problem, made, servings, asked.json)
    return OK


def _print(room: Room, problem: Problem, made: Plan, servings: Sequence[PostedServing], as_json: bool) -> None:
    if not as_json:
        _print_days(room, problem, made, servings)
        return
    reasons = _reasons(room, problem, made)
    say_json(plan_to_json(problem, made, [_extra(each, reasons[slot]) for slot, each in _pairs(made, servings)]))


def _pairs(made: Plan, servings: Sequence[PostedServing]) -> list[tuple[Slot, PostedServing]]:
    return list(zip(made.slots, servings, strict=True))


def _extra(serving: PostedServing, why: str) -> Mapping[str, Any]:
    return {
        "amount": serving.amount,
        "unit": serving.unit,
        "amount_mg": serving.amount_mg,
        "method": serving.method,
        "why": why,
    }


def _reasons(room: Room, problem: Problem, made: Plan) -> dict[Slot, str]:
    """Why each serving is given on its day, in a few words; only its own tank's servings are looked at."""
    names = {feed.id: feed.name for feed in room.feeds.values()}
    found: dict[Slot, str] = {}
    for _, of_tank in groupby(sorted(made.slots, key=lambda slot: slot.tank), key=lambda slot: slot.tank):
        mine = list(of_tank)
        found |= {slot: texts(why(problem, mine, slot), names, MOST_REASONS) for slot in mine}
    return found


def _print_days(room: Room, problem: Problem, made: Plan, servings: Sequence[PostedServing]) -> None:
    place = {tank: number for number, tank in enumerate(room.walk)}
    pairs = sorted(_pairs(made, servings), key=lambda pair: (pair[0].day, place[pair[0].tank]))
    say(f"{room.name}, {days_word(problem.days)} from {date_text(problem.start)} {problem.start.year}")
    for day, of_day in groupby(pairs, key=lambda pair: pair[0].day):
        listed = list(of_day)
        minutes = sum(problem.tanks[slot.tank].feeds[slot.feed].minutes for slot, _ in listed)
        say()
        say(
            f"{date_text(problem.start + timedelta(days=day))}: "
            f"{counted(len(listed), 'serving')}, {minutes_text(minutes)}"
        )
        for tank, at_tank in groupby(listed, key=lambda pair: pair[0].tank):
            given = [f"{feed_name(room, due.feed)}, {due_text(room, due)}, {how_text(room, due)}" for _, due in at_tank]
            say(f"  {room.tanks[tank].label}: {'; '.join(given)}")


def cost_text(made: Plan) -> str:
    """A plan's cost by name, and how small it could be."""
    cost = made.cost
    parts = {
        "overdue": cost.overdue,
        "unaccompanied": cost.unaccompanied,
        "weekly": cost.weekly,
        "repeat": cost.repeat,
        "longest round": cost.longest_round,
        "churn": cost.churn,
        "late churn": cost.late_churn,
    }
    named = ", ".join(f"{name} {value:.0f}" for name, value in parts.items() if value)
    bound = "" if made.bound is None else f", at least {made.bound:.0f} for any plan"
    return f"cost {cost.total:.0f} ({named or 'nothing'}){bound}"


def _problem_text(path: Path) -> str:
    """The text of an ordinary file of a bounded size."""
    with path.open("rb") as file:
        content = file.read(LARGEST_PROBLEM + 1)
    if len(content) > LARGEST_PROBLEM:
        raise CommandFault(f"{path}: found more than {LARGEST_PROBLEM // 1024**2} MiB, allowed is at most that much")
    return content.decode("utf-8")


def _plan_problem(path: Path, as_json: bool) -> int:
    """Plan the problem inside a JSON file, without a room or a ledger."""
    try:
        with said_when_slow(f"{path} is being read"):
            problem = problem_from_json(json.loads(_problem_text(path)))
    except OSError as fault:
        raise CommandFault(f"{path}: cannot be read: {fault.strerror}") from None
    except (UnicodeDecodeError, ValueError, RecursionError) as fault:
        said = fault if isinstance(fault, ProblemFault) else f"this is no JSON: {fault}"
        raise CommandFault(f"{path}: {said}") from None
    if len(problem.tanks) > MOST_TANKS:
        raise CommandFault(f"{path}: problem.tanks: found {len(problem.tanks)} tanks, allowed are at most {MOST_TANKS}")
    with said_when_slow(f"{counted(len(problem.tanks), 'tank')} are being planned"):
        made = plan(problem)
    if as_json:
        say_json(plan_to_json(problem, made))
        return OK
    say(
        f"{days_word(problem.days)} from {date_text(problem.start)} {problem.start.year}, "
        f"{counted(len(problem.tanks), 'tank')}"
    )
    say(cost_text(made))
    for slot in made.slots:
        say(f"{(problem.start + timedelta(days=slot.day)).isoformat()} {slot.tank} {slot.feed}")
    return OK
