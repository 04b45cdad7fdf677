"""`rackround plan`: a plan of the coming days as text or JSON; posts nothing."""

from __future__ import annotations

import json
from argparse import Namespace
from collections.abc import Mapping, Sequence
from datetime import timedelta
from itertools import groupby
from pathlib import Path
from typing import Any

from schedules.formatting import date_text, days_word, minutes_text
from schedules.history import history_of
from schedules.ledger import PostedServing
from schedules.plan.planner import plan
from schedules.plan.posting import plan_days, servings_of
from schedules.plan.types import Plan
from schedules.problem import Problem, Slot
from schedules.problem.json import ProblemFault, plan_to_json, problem_from_json
from schedules.room import Room
from schedules.wording.entries import due_text, feed_name, how_text
from tui.cli.fault import OK, CommandFault
from tui.cli.out import say, say_json
from tui.cli.session import Options, open_session


def print_plan(options: Options, asked: Namespace) -> int:
    """Plan the coming days of a room, or the problem inside a plan's JSON, and print it."""
    if asked.problem is not None:
        return _plan_problem(asked.problem, asked.json)
    if not options.room_file.name:
        raise CommandFault("name a room file, or a plan's JSON with --problem")
    with open_session(options, "nothing") as session:
        start = asked.start or session.day
        if start < session.day:
            raise CommandFault(f"--start {start.isoformat()} is past; what was due then is what was posted then")
        ahead = (start - session.day).days + 6
        history = history_of(session.ledger, session.day, ahead=ahead)
        problem, made = plan_days(session.room, history, start, asked.days, session.day)
        servings = servings_of(session.room, history, problem, made.slots)
        if asked.json:
            extras = [_extra(each, _why(problem, made.slots, slot)) for slot, each in _pairs(made, servings)]
            say_json(plan_to_json(problem, made, extras))
        else:
            _print_days(session.room, problem, made, servings)
    return OK


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


def _why(problem: Problem, slots: Sequence[Slot], slot: Slot) -> str:
    """How long after the last one a serving comes, against the feed's longest gap."""
    feed = problem.tanks[slot.tank].feeds[slot.feed]
    earlier = [each.day for each in slots if each[1:] == slot[1:] and each.day < slot.day]
    last = max(earlier, default=feed.last)
    if last is None:
        return "never given here yet"
    return f"{days_word(slot.day - last)} after the last, at most {feed.max_gap}"


def _print_days(room: Room, problem: Problem, made: Plan, servings: Sequence[PostedServing]) -> None:
    place = {tank: number for number, tank in enumerate(room.walk)}
    pairs = sorted(_pairs(made, servings), key=lambda pair: (pair[0].day, place[pair[0].tank]))
    say(f"{room.name}, {days_word(problem.days)} from {date_text(problem.start)} {problem.start.year}")
    say(cost_text(made))
    for day, of_day in groupby(pairs, key=lambda pair: pair[0].day):
        listed = list(of_day)
        minutes = sum(problem.tanks[slot.tank].feeds[slot.feed].minutes for slot, _ in listed)
        say()
        say(f"{date_text(problem.start + timedelta(days=day))}: {len(listed)} servings, {minutes_text(minutes)}")
        for tank, at_tank in groupby(listed, key=lambda pair: pair[0].tank):
            given = [f"{feed_name(room, due.feed)}, {due_text(due)}, {how_text(due)}" for _, due in at_tank]
            say(f"  {tank} {room.tanks[tank].name}: {'; '.join(given)}")


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
    }
    named = ", ".join(f"{name} {value:.0f}" for name, value in parts.items() if value)
    bound = "" if made.bound is None else f", at least {made.bound:.0f} for any plan"
    return f"cost {cost.total:.0f} ({named or 'nothing'}){bound}"


def _plan_problem(path: Path, as_json: bool) -> int:
    """Plan the problem inside a JSON file, without a room or a ledger."""
    try:
        problem = problem_from_json(json.loads(path.read_text(encoding="utf-8")))
    except OSError as fault:
        raise CommandFault(f"{path}: cannot be read: {fault.strerror}") from None
    except (UnicodeDecodeError, ValueError, RecursionError) as fault:
        said = fault if isinstance(fault, ProblemFault) else f"this is no JSON: {fault}"
        raise CommandFault(f"{path}: {said}") from None
    made = plan(problem)
    if as_json:
        say_json(plan_to_json(problem, made))
        return OK
    say(f"{days_word(problem.days)} from {date_text(problem.start)} {problem.start.year}, {len(problem.tanks)} tanks")
    say(cost_text(made))
    for slot in made.slots:
        say(f"{(problem.start + timedelta(days=slot.day)).isoformat()} {slot.tank} {slot.feed}")
    return OK
