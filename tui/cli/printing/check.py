"""`rackround check`: is the room file sound?"""

from __future__ import annotations

from argparse import Namespace

from schedules.formatting import counted
from schedules.room_file import load_room
from schedules.room_file.diagnosis.warnings import warnings_of
from tui.cli.fault import OK
from tui.cli.options import Options
from tui.cli.out import say
from tui.cli.session import moment


def check(options: Options, _asked: Namespace) -> int:
    """Read the room file, say what it holds and what is odd in it; its faults are raised and reported by the caller."""
    room = load_room(options.room_file)
    held = ", ".join(
        (counted(len(room.racks), "rack"), counted(len(room.tanks), "tank"), counted(len(room.feeds), "feed"))
    )
    say(f"{options.room_file}: sound; {held}")
    for warning in warnings_of(options.room_file, room, room.day(moment(options.now, room))):
        say(f"warning: {warning}")
    return OK
