"""The command line's words."""

from __future__ import annotations

from argparse import ArgumentParser, ArgumentTypeError, Namespace, RawDescriptionHelpFormatter
from collections.abc import Callable, Sequence
from datetime import date, datetime
from pathlib import Path
from typing import Any, Final, get_args

from schedules.ledger import Leftovers

DESCRIPTION: Final = """\
The morning round of a shrimp room: what to feed each tank, how much, how, and what to hold back.

  rackround ROOM.toml     open today's round
  rackround demo          look around in an invented room of 48 tanks
  rackround new ROOM.toml write a first room file to fill in
"""


def day(text: str) -> date:
    """A date as YYYY-MM-DD."""
    try:
        return date.fromisoformat(text)
    except ValueError:
        raise ArgumentTypeError(f'"{text}" is no date; write YYYY-MM-DD, such as 2026-12-01') from None


def moment(text: str) -> datetime:
    """A moment as YYYY-MM-DDTHH:MM, with an offset or in the room's zone."""
    try:
        return datetime.fromisoformat(text)
    except ValueError:
        raise ArgumentTypeError(f'"{text}" is no moment; write it as 2026-12-01T07:30') from None


def number(low: float, high: float) -> Callable[[str], float]:
    """A number above `low` and up to `high`."""

    def read(text: str) -> float:
        try:
            value = float(text)
        except ValueError:
            value = float("nan")
        if low < value <= high:
            return value
        raise ArgumentTypeError(f'"{text}" is not a number above {low:g} and up to {high:g}')

    return read


def whole(low: int, high: int) -> Callable[[str], int]:
    """A whole number from `low` to `high`."""

    def read(text: str) -> int:
        if text.isascii() and text.isdigit() and low <= int(text) <= high:
            return int(text)
        raise ArgumentTypeError(f'"{text}" is not a whole number from {low} to {high}')

    return read


def _common() -> ArgumentParser:
    common = ArgumentParser(add_help=False)
    common.add_argument("--now", type=moment, metavar="MOMENT", help="act as if it were this moment: 2026-12-01T07:30")
    common.add_argument("--ledger", type=Path, metavar="PATH", help="the ledger; else ROOM.ledger.db for ROOM.toml")
    common.add_argument("--keys", type=Path, metavar="FILE", help="a file of own keys and colours")
    common.add_argument("--by", metavar="KEEPER", help="who acts; else the room's first keeper")
    return common


class Words:
    """The parser of all commands, built once a run."""

    def __init__(self) -> None:
        self.common = _common()
        self.parser = ArgumentParser(
            prog="rackround",
            description=DESCRIPTION,
            formatter_class=RawDescriptionHelpFormatter,
            allow_abbrev=False,
        )
        self.commands = self.parser.add_subparsers(dest="command", metavar="COMMAND", required=True)
        self._reading()
        self._marking()
        self._starting()

    def _command(self, name: str, text: str, *, room: bool = True, as_json: bool = False) -> ArgumentParser:
        parser: ArgumentParser = self.commands.add_parser(
            name, help=text, description=text, parents=[self.common], allow_abbrev=False
        )
        if room:
            parser.add_argument("room", type=Path, metavar="ROOM.toml")
        if as_json:
            parser.add_argument("--json", action="store_true", help="print JSON")
        return parser

    def _reading(self) -> None:
        self._command("open", "open the dashboard on today's round (the same as naming the room file alone)")
        self._command("check", "read the room file and report every fault")
        plan = self._command("plan", "print a plan of the coming days; posts nothing", room=False, as_json=True)
        plan.add_argument("room", type=Path, nargs="?", default=Path(), metavar="ROOM.toml")
        plan.add_argument("--problem", type=Path, metavar="PLAN.json", help="plan the problem inside a plan's JSON")
        plan.add_argument("--start", type=day, metavar="DATE", help="the plan's first day; else today")
        plan.add_argument("--days", type=whole(1, 90), default=28, metavar="N", help="how many days, 1 to 90; else 28")
        sheet = self._command("round", "print the round sheet", as_json=True)
        sheet.add_argument("--on", type=day, metavar="DATE", help="the round's day; else today")
        sheet.add_argument("--round", metavar="ROUND", help="which round of the day; else the one to walk now")
        missed = self._command("missed", "print what was missed", as_json=True)
        missed.add_argument("--since", type=day, metavar="DATE", help="from this day on; else the last 7 days")
        self._command("flags", "print what was too much, and what was too little", as_json=True)
        self._command("prepare", "print what to take, weigh, mix and carry before the round", as_json=True)
        self._command("lookback", "print which tanks to look at for leftovers, and when", as_json=True)

    def _marking(self) -> None:
        give = self._serving("give", "record a serving")
        give.add_argument("--amount", type=number(0, 1000), metavar="N", help="measures given; else what is due")
        give.add_argument("--on", type=day, metavar="DATE", help="the day it was given; else today")
        give.add_argument(
            "--anyway", action="store_true", help="record it as extra even where a rule stands against it"
        )
        skip = self._serving("skip", "record that a due serving is left out")
        skip.add_argument("--because", required=True, metavar="TEXT", help="the reason")
        left = self._serving("leftovers", "record how much of a feed was found lying")
        left.add_argument("leftovers", choices=get_args(Leftovers))
        note = self._command("note", "write a note about a tank")
        note.add_argument("tank", metavar="TANK")
        note.add_argument("text", metavar="TEXT")
        seen = self._command("seen", "set a flag aside as seen, until there is more of it or it is worse")
        seen.add_argument("tank", metavar="TANK")
        seen.add_argument("flag", metavar="FLAG", help="its kind, as `rackround flags` prints it: over_ration")
        seen.add_argument("--feed", metavar="FEED", help="the feed it is about, where that tells it from others")
        seen.add_argument("--on", type=day, metavar="DATE", help="the day it is about, where that tells it from others")
        self._command("undo", "take back the last act (of the keeper named with --by)")

    def _serving(self, name: str, text: str) -> ArgumentParser:
        parser = self._command(name, text)
        parser.add_argument("tank", metavar="TANK")
        parser.add_argument("feed", metavar="FEED")
        return parser

    def _starting(self) -> None:
        tools = ("verify", "backup", "export", "import", "repair")
        ledger = self._command("ledger", "look after the ledger's file", room=False)
        ledger.add_argument("tool", choices=tools, help="what to do")
        ledger.add_argument("room", type=Path, metavar="ROOM.toml", help="the room file, or the ledger itself")
        ledger.add_argument("file", type=Path, nargs="?", metavar="FILE", help="the other file: a copy, an export")
        new = self._command("new", "write a first room file, asking a few questions")
        new.add_argument("--yes", action="store_true", help="ask nothing, take the usual answers")
        demo = self._command("demo", "open an invented room of 48 tanks with a past of 60 days", room=False)
        demo.add_argument("--keep", type=Path, metavar="FOLDER", help="put the room and its ledger here and leave them")

    def read(self, words: Sequence[str]) -> Namespace:
        """What was asked; a room file named alone asks to open it. Ends the program with code 2 on other words."""
        given = list(words)
        if given and not given[0].startswith("-") and given[0] not in self._names():
            given.insert(0, "open")
        return self.parser.parse_args(given)

    def _names(self) -> Any:
        return self.commands.choices
