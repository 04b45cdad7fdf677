"""Commands that record what was done or seen."""

from __future__ import annotations

from typing import get_args

from schedules.ledger import Leftovers, Response, Saw
from schedules.room.heads import CLASSES, MOST_HEADS
from schedules.room.kinds import STAGES
from tui.cli.parser.commands import Commands, Parser
from tui.cli.parser.values import day, number, whole


def add_recording(commands: Commands) -> None:
    """Add the commands that record."""
    give = _serving(commands, "give", "record a serving")
    give.add_argument("--amount", type=number(0, 1000), metavar="N", help="measures given; else what is due")
    give.add_argument("--on", type=day, metavar="DATE", help="the day it was given; else today")
    give.add_argument("--anyway", action="store_true", help="record it as extra even where a rule forbids it")
    skip = _serving(commands, "skip", "record that a due serving is left out")
    skip.add_argument("--because", required=True, metavar="TEXT", help="the reason")
    left = _serving(commands, "leftovers", "record how much of a feed was found lying")
    left.add_argument("leftovers", choices=get_args(Leftovers))
    came = _serving(commands, "came", "record how the animals came to a feed, some minutes after it went in")
    came.add_argument("came", choices=get_args(Response))
    note = commands.add("note", "write a note about a tank")
    note.add_argument("tank", metavar="TANK")
    note.add_argument("text", metavar="TEXT")
    seen = commands.add("seen", "set a flag aside as seen, until there is more of it or it is worse")
    seen.add_argument("tank", metavar="TANK")
    seen.add_argument(
        "flag",
        metavar="FLAG",
        help='its kind as `rackround flags` prints it, such as "given twice", or its code: doubled',
    )
    seen.add_argument("--feed", metavar="FEED", help="the feed it is about, where that tells it from others")
    seen.add_argument("--on", type=day, metavar="DATE", help="the day it is about, where that tells it from others")
    _add_sighting(commands)
    commands.add("undo", "take back your last act of today; --by says whose")


def _add_sighting(commands: Commands) -> None:
    saw = commands.add("saw", "record what was seen of a tank's animals, or became of them")
    saw.add_argument("tank", metavar="TANK")
    saw.add_argument("saw", choices=get_args(Saw))
    many = saw.add_mutually_exclusive_group()
    many.add_argument("--heads", type=whole(0, MOST_HEADS), metavar="N", help="how many, counted")
    many.add_argument("--about", type=int, choices=tuple(CLASSES), help="how many, by the eye")
    saw.add_argument("--stage", choices=STAGES, help="of which stage; else adults, or the only one there")
    saw.add_argument("--to", metavar="TANK", help="the tank they were moved to")
    saw.add_argument("--berried", type=whole(0, MOST_HEADS), metavar="N", help="how many of those that left had eggs")
    saw.add_argument("--source", metavar="TEXT", help="where new stock came from")
    saw.add_argument("--line", metavar="LINE", help="the line they belong to")
    saw.add_argument("--grade", metavar="GRADE", help="your own name of their grade")
    saw.add_argument("--on", type=day, metavar="DATE", help="the day it was seen; else today")
    saw.add_argument("--anyway", action="store_true", help="record it even where something speaks against it")


def _serving(commands: Commands, name: str, text: str) -> Parser:
    parser = commands.add(name, text)
    parser.add_argument("tank", metavar="TANK")
    parser.add_argument("feed", metavar="FEED")
    return parser
