"""`rackround prepare` and `rackround lookback`: what to do before the round, and what to look at after it."""

from __future__ import annotations

from argparse import Namespace
from dataclasses import asdict
from itertools import groupby

from schedules.amounts.mixing import LookBack, look_back, pull_list
from schedules.formatting import clock_text, counted, minutes_text
from schedules.session.session import Session
from tui.cli.fault import OK
from tui.cli.out import say, say_json
from tui.cli.session import Options, open_session


def print_prepare(options: Options, asked: Namespace) -> int:
    """Post today's plan where it was not yet, then print what to take, weigh, mix and carry for the whole round."""
    with open_session(options, "today") as session:
        sheet, doses = session.sheet, session.doses
        pulls = pull_list(session.room, doses.servings, doses.batches)
        if asked.json:
            say_json(
                {
                    "format": "rackround-prepare/1",
                    "date": sheet.day.isoformat(),
                    "round": sheet.round,
                    "prepare": [asdict(each) for each in pulls],
                }
            )
            return OK
        servings = counted(len(doses.servings), "serving")
        say(f"Before the {sheet.round} round: {servings}, {minutes_text(sheet.minutes_left)}")
        for stage, found in groupby(pulls, key=lambda pull: pull.stage):
            say(f"{stage}:")
            for pull in found:
                say(f"  {pull.text}")
    return OK


def print_lookback(options: Options, asked: Namespace) -> int:
    """Print which tanks to look at for leftovers today, in the order of their time; posts nothing."""
    with open_session(options, "nothing") as session:
        found = look_back(session.room, session.history, session.day, session.clock())
        if asked.json:
            looks = [_look_json(session, each) for each in found]
            say_json({"format": "rackround-lookback/1", "date": session.day.isoformat(), "look": looks})
            return OK
        for each in found:
            now = ", now" if each.passed else ""
            name = session.room.tanks[each.tank].name
            say(f"{clock_text(each.at, session.room.zone)}{now}: {each.tank} {name}: {each.text}")
        if not found:
            say("nothing to look back at today")
    return OK


def _look_json(session: Session, each: LookBack) -> dict[str, object]:
    at = each.at.astimezone(session.room.zone).isoformat(timespec="minutes")
    return {"at": at, "tank": each.tank, "feed": each.feed, "text": each.text, "passed": each.passed}
