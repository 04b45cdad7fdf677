"""`rackround check`: is the room file sound?"""

from __future__ import annotations

from argparse import Namespace

from schedules.room_file import load_room
from tui.cli.fault import OK
from tui.cli.out import say
from tui.cli.session import Options


def check(options: Options, _asked: Namespace) -> int:
    """Read the room file and say what it holds; its faults are raised and reported by the caller."""
    room = load_room(options.room_file)
    held = ", ".join(
        (_counted(len(room.racks), "rack"), _counted(len(room.tanks), "tank"), _counted(len(room.feeds), "feed"))
    )
    say(f"{options.room_file}: sound; {held}")
    return OK


def _counted(number: int, word: str) -> str:
    return f"{number} {word}" if number == 1 else f"{number} {word}s"
