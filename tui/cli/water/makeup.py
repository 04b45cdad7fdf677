"""`rackround topoff`, `rackround makeup` and `rackround pour`: what to pour in, and what was poured in."""

from __future__ import annotations

from argparse import Namespace

from schedules.room import Room
from schedules.room.units import litres_from, litres_from_gallons
from schedules.water.makeup import rack_make_up, tank_top_off
from schedules.water.makeup.known import PURE_ID
from schedules.wording.water.make_up import make_up_lines
from schedules.wording.water.top_off import change_words, record_words, top_off_lines
from tui.cli.fault import OK, CommandFault
from tui.cli.marks import ended
from tui.cli.options import Options
from tui.cli.out import say, say_json
from tui.cli.session import known, open_session, tank_named
from tui.cli.water.makeup_json import make_up_json, top_off_json


def print_top_off(options: Options, asked: Namespace) -> int:
    """Print what a tank needs and why, and the command that records it."""
    with open_session(options, "nothing") as session:
        tank = tank_named(session.room, asked.tank)
        litres = asked.litres if asked.gallons is None else litres_from_gallons(asked.gallons)
        need = tank_top_off(session.room, session.history, tank, session.day, drop_mm=asked.drop, litres=litres)
        if asked.json:
            say_json({"format": "rackround-topoff/1", **top_off_json(session.room, need)})
            return OK
        say(f"{tank.label}:")
        for line in top_off_lines(session.room, need):
            say(f"  {line}")
        for done, words in (
            ("poured in", record_words(session.room, need)),
            ("changed", change_words(session.room, need)),
        ):
            if words is not None:
                say(f"  once {done}: rackround pour {options.room_file} {words}")
    return OK


def print_make_up(options: Options, asked: Namespace) -> int:
    """Print the make-up water of a rack or the whole room."""
    with open_session(options, "nothing") as session:
        racks = {rack.id: rack for rack in session.room.racks}
        rack = None if asked.rack is None else known(asked.rack, racks, "rack")
        found = rack_make_up(session.room, session.history, session.day, rack)
        if asked.json:
            say_json({"format": "rackround-makeup/1", **make_up_json(session.room, found, rack)})
            return OK
        say(f"make-up water for {session.room.name if rack is None else racks[rack].name}")
        for line in make_up_lines(session.room, found):
            say(f"  {line}")
    return OK


def record_pour(options: Options, asked: Namespace) -> int:
    """Record what was poured into a tank, as one act."""
    with open_session(options, "today") as session:
        room = session.room
        tank = tank_named(room, asked.tank)
        waters = [(_source(room, name), litres_from(volume, room.units)) for name, volume in asked.waters]
        salts = [(known(name, room.salts, "salt"), grams) for name, grams in asked.salt]
        if not waters and not salts:
            raise CommandFault("nothing to record; name a water, such as pure=2.5, or a salt, such as --salt NAME=1.5")
        if asked.change and len(waters) > 1:
            raise CommandFault("a change is recorded for one water at a time; name one")
        outcome = session.pour(tank.id, waters, salts, change=asked.change, day=asked.on, anyway=asked.anyway)
        return ended(session, outcome, "--anyway records it")


def _source(room: Room, name: str) -> str | None:
    return None if name == PURE_ID else known(name, [PURE_ID, *room.waters], "water")
