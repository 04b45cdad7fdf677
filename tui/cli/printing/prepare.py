"""`rackround prepare` and `rackround lookback`: what to do before the round, and what to look at after it."""

from __future__ import annotations

from argparse import Namespace
from dataclasses import asdict
from itertools import groupby

from schedules.amounts import Bottle, Cup, LookBack, Preparation, look_back, prepare
from schedules.formatting import clock_text
from schedules.room import Room
from schedules.session.session import Session
from schedules.wording.amounts import look_text
from schedules.wording.pick_list import length_lines, pick_text
from schedules.wording.stock.shelf import order_now_lines
from tui.cli.fault import OK
from tui.cli.options import Options
from tui.cli.out import say, say_json
from tui.cli.session import open_session


def print_prepare(options: Options, asked: Namespace) -> int:
    """Post today's plan where it was not yet, then print what to take, weigh, mix and carry for the whole round."""
    with open_session(options, "today") as session:
        sheet, doses = session.sheet, session.doses
        prepared = prepare(session.room, session.history, doses.servings, session.day)
        orders = order_now_lines(session.room, session.stock())
        if asked.json:
            head = {"format": "rackround-prepare/1", "date": sheet.day.isoformat(), "round": sheet.round}
            say_json(head | _prepare_json(session.room, prepared) | {"order_now": orders})
            return OK
        feeding, *chores = length_lines(sheet, doses.servings, prepared.minutes)
        say(f"Before the {sheet.round} round: {feeding}")
        for line in chores:
            say(line)
        for line in orders:
            say(f"! {line}")
        for stage, found in groupby(prepared.picks, key=lambda pick: pick.stage):
            say(f"{stage}:")
            for pick in found:
                say(f"  {pick_text(session.room, pick)}")
    return OK


def _prepare_json(room: Room, prepared: Preparation) -> dict[str, object]:
    """Cups to weigh, bottles with their labels and doses, the list in words, and the minutes."""
    return {
        "minutes": prepared.minutes,
        "weighings": [_cup_json(cup) for each in prepared.weighings for cup in each.cups],
        "bottles": [_bottle_json(each) for each in prepared.bottles],
        "prepare": [
            {"stage": each.stage, "code": each.code, "feed": each.feed, "text": pick_text(room, each)}
            for each in prepared.picks
        ],
    }


def _cup_json(cup: Cup) -> dict[str, object]:
    return {"feed": cup.feed, "day": cup.day.isoformat(), "mass_mg": cup.mass_mg, "water_ml": cup.water_ml}


def _bottle_json(bottle: Bottle) -> dict[str, object]:
    return {
        "feed": bottle.feed,
        "mass_mg": bottle.mass_mg,
        "water_ml": bottle.water_ml,
        "mg_per_ml": bottle.mg_per_ml,
        "weighed_on": bottle.weighed_on.isoformat(),
        "made_on": bottle.made_on.isoformat(),
        "keeps_hours": bottle.keeps_hours,
        "doses": [asdict(each) for each in bottle.doses],
    }


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
            tank = session.room.tanks[each.tank].label
            say(f"{clock_text(each.at, session.room.zone)}{now}: {tank}: {look_text(session.room, each)}")
        if not found:
            say("nothing to look back at today")
    return OK


def _look_json(session: Session, each: LookBack) -> dict[str, object]:
    at = each.at.astimezone(session.room.zone).isoformat(timespec="minutes")
    text = look_text(session.room, each)
    return {"at": at, "tank": each.tank, "feed": each.feed, "look": each.look, "text": text, "passed": each.passed}
