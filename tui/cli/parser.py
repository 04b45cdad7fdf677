"""The command line's words."""

from __future__ import annotations

from argparse import SUPPRESS, ArgumentParser, ArgumentTypeError, Namespace, RawDescriptionHelpFormatter
from collections.abc import Callable, Sequence
from datetime import date, datetime
from importlib.metadata import PackageNotFoundError, version
from pathlib import Path
from typing import Any, Final, NoReturn, TypeVar, get_args

from schedules.ledger import Leftovers, Response, Saw
from schedules.room.heads import CLASSES, MOST_HEADS
from schedules.room.kinds import STAGES
from tui.cli.fault import FAULT
from tui.cli.out import say, warn
from tui.cli.session import nearest

DESCRIPTION: Final = """\
The morning round of a shrimp room: what to feed each tank, how much, how, and what to hold back.

  rackround ROOM.toml     open today's round
  rackround demo          look around in an invented room of 48 tanks
  rackround new ROOM.toml write a first room file to fill in
"""


FIRST_YEAR: Final = 1970
LAST_YEAR: Final = 2200
"""Years that a day or a moment may lie in: enough for any ledger, and far from where a calendar ends."""


def day(text: str) -> date:
    """A date as YYYY-MM-DD."""
    try:
        return _within(date.fromisoformat(text), text)
    except ValueError:
        raise ArgumentTypeError(f'"{text}" is no date; write YYYY-MM-DD, such as 2026-12-01') from None


def moment(text: str) -> datetime:
    """A moment as YYYY-MM-DDTHH:MM, with an offset or in the room's zone."""
    try:
        return _within(datetime.fromisoformat(text), text)
    except ValueError:
        raise ArgumentTypeError(f'"{text}" is no moment; write it as 2026-12-01T07:30') from None


Day = TypeVar("Day", bound=date)


def _within(found: Day, text: str) -> Day:
    if not FIRST_YEAR <= found.year <= LAST_YEAR:
        raise ArgumentTypeError(f'"{text}" is too far away; years from {FIRST_YEAR} to {LAST_YEAR} are allowed')
    return found


def number(low: float, high: float) -> Callable[[str], float]:
    """A number above `low` and up to `high`."""

    def read(text: str) -> float:
        try:
            value = float(text.replace(",", "."))
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


COHORTS_BY: Final = ("tank", "line", "month", "feeding")
"""What cohorts can be put side by side by; written here too, since no other command needs the statistics."""
VALUED: Final = ("--now", "--ledger", "--keys", "--by")
"""Options of every command that are followed by a value."""
JSON_COMMANDS: Final = frozenset(
    ("plan", "round", "missed", "flags", "prepare", "lookback", "lives", "expected", "survival", "changed", "lines")
)


class Parser(ArgumentParser):
    """Prints as all else does: text from the command line cannot steer the terminal."""

    def _print_message(self, message: str, _file: object = None) -> None:
        for line in message.rstrip("\n").split("\n"):
            say(line)

    def error(self, message: str) -> NoReturn:
        """Say what is wrong with the words and end with code 2."""
        for line in self.format_usage().rstrip("\n").split("\n"):
            warn(line)
        warn(f"{self.prog}: {message}")
        raise SystemExit(FAULT)


def _common(default: Any, without: Sequence[str] = ()) -> Parser:
    """The options of every command but some; `default` is what holds where one is not given."""
    common = Parser(add_help=False, argument_default=default)
    common.add_argument("--now", type=moment, metavar="MOMENT", help="act as if it were this moment: 2026-12-01T07:30")
    common.add_argument("--ledger", type=Path, metavar="PATH", help="the ledger; else ROOM.ledger.db for ROOM.toml")
    common.add_argument("--keys", type=Path, metavar="FILE", help="a file of own keys and colours")
    if "--by" not in without:
        common.add_argument("--by", metavar="KEEPER", help="who acts; else the room's first keeper")
    text = f"print JSON ({', '.join(sorted(JSON_COMMANDS))})"
    common.add_argument("--json", action="store_true", help=text, default=False if default is None else default)
    return common


class Words:
    """The parser of all commands, built once a run."""

    def __init__(self) -> None:
        self.parser = Parser(
            prog="rackround",
            description=DESCRIPTION,
            formatter_class=RawDescriptionHelpFormatter,
            allow_abbrev=False,
            parents=[_common(None)],
        )
        self.parser.add_argument("--version", action="version", version=f"rackround {_version()}")
        self.commands = self.parser.add_subparsers(
            dest="command", metavar="COMMAND", required=True, parser_class=Parser
        )
        self._reading()
        self._marking()
        self._starting()

    def _command(self, name: str, text: str, *, room: bool = True, own: Sequence[str] = ()) -> Parser:
        """A command. `own` are options that mean something else to it than to the others."""
        parser: Parser = self.commands.add_parser(
            name,
            help=text,
            description=text,
            parents=[_common(SUPPRESS, own)],
            allow_abbrev=False,
        )
        if room:
            parser.add_argument("room", type=Path, metavar="ROOM.toml")
        return parser

    def _reading(self) -> None:
        self._command("open", "open the dashboard on today's round (the same as naming the room file alone)")
        self._command("check", "read the room file and report every fault")
        plan = self._command(
            "plan",
            "print the plan of the coming days; with --start or --days a trial plan, which is not posted",
            room=False,
        )
        plan.add_argument("room", type=Path, nargs="?", default=Path(), metavar="ROOM.toml")
        plan.add_argument("--problem", type=Path, metavar="PLAN.json", help="plan the problem inside a plan's JSON")
        plan.add_argument("--start", type=day, metavar="DATE", help="the plan's first day; else today")
        plan.add_argument("--days", type=whole(1, 90), metavar="N", help="how many days, 1 to 90; else 28")
        sheet = self._command("round", "print the round sheet")
        sheet.add_argument("--on", type=day, metavar="DATE", help="the round's day; else today")
        sheet.add_argument("--round", metavar="ROUND", help="which round of the day; else the one to walk now")
        missed = self._command("missed", "print what was missed")
        missed.add_argument("--since", type=day, metavar="DATE", help="from this day on; else the last 7 days")
        self._command("flags", "print what was too much, and what was too little")
        lives = self._command("lives", "print who lives in which tank, by the room file and all that was seen since")
        lives.add_argument("tank", nargs="?", metavar="TANK", help="one tank in full; else all in short")
        lives.add_argument("--on", type=day, metavar="DATE", help="on which day; else today")
        survival = self._command(
            "survival", "print what became of each hatch of the last year, side by side", own=("--by",)
        )
        survival.add_argument(
            "--by", dest="by_what", choices=COHORTS_BY, default="tank", help="side by side by this; else by tank"
        )
        lines = self._command(
            "lines", "print what each line did in a year: hatches, grades kept, culled and sold, moves"
        )
        lines.add_argument("--line", metavar="LINE", help="one line; else all")
        lines.add_argument(
            "--year", type=whole(FIRST_YEAR, LAST_YEAR), metavar="YYYY", help="which year; else this one"
        )
        changed = self._command("changed", "print what was different in a tank and its rack in the last days")
        changed.add_argument("tank", metavar="TANK")
        changed.add_argument("--days", type=whole(1, 90), default=14, metavar="N", help="of so many days; else 14")
        self._command("expected", "print which hatches are expected when, and what to do before")
        self._command("prepare", "print what to take, weigh, mix and carry before the round")
        self._command("lookback", "print which tanks to look at for leftovers, and when")

    def _marking(self) -> None:
        give = self._serving("give", "record a serving")
        give.add_argument("--amount", type=number(0, 1000), metavar="N", help="measures given; else what is due")
        give.add_argument("--on", type=day, metavar="DATE", help="the day it was given; else today")
        give.add_argument("--anyway", action="store_true", help="record it as extra even where a rule forbids it")
        skip = self._serving("skip", "record that a due serving is left out")
        skip.add_argument("--because", required=True, metavar="TEXT", help="the reason")
        left = self._serving("leftovers", "record how much of a feed was found lying")
        left.add_argument("leftovers", choices=get_args(Leftovers))
        came = self._serving("came", "record how the animals came to a feed, some minutes after it went in")
        came.add_argument("came", choices=get_args(Response))
        note = self._command("note", "write a note about a tank")
        note.add_argument("tank", metavar="TANK")
        note.add_argument("text", metavar="TEXT")
        seen = self._command("seen", "set a flag aside as seen, until there is more of it or it is worse")
        seen.add_argument("tank", metavar="TANK")
        seen.add_argument(
            "flag",
            metavar="FLAG",
            help='its kind as `rackround flags` prints it, such as "given twice", or its code: doubled',
        )
        seen.add_argument("--feed", metavar="FEED", help="the feed it is about, where that tells it from others")
        seen.add_argument("--on", type=day, metavar="DATE", help="the day it is about, where that tells it from others")
        self._sighting()
        self._command("undo", "take back your last act of today; --by says whose")

    def _sighting(self) -> None:
        saw = self._command("saw", "record what was seen of a tank's animals, or became of them")
        saw.add_argument("tank", metavar="TANK")
        saw.add_argument("saw", choices=get_args(Saw))
        many = saw.add_mutually_exclusive_group()
        many.add_argument("--heads", type=whole(0, MOST_HEADS), metavar="N", help="how many, counted")
        many.add_argument("--about", type=int, choices=tuple(CLASSES), help="how many, by the eye")
        saw.add_argument("--stage", choices=STAGES, help="of which stage; else adults, or the only one there")
        saw.add_argument("--to", metavar="TANK", help="the tank they were moved to")
        saw.add_argument("--source", metavar="TEXT", help="where new stock came from")
        saw.add_argument("--line", metavar="LINE", help="the line they belong to")
        saw.add_argument("--grade", metavar="GRADE", help="your own name of their grade")
        saw.add_argument("--on", type=day, metavar="DATE", help="the day it was seen; else today")
        saw.add_argument("--anyway", action="store_true", help="record it even where something speaks against it")

    def _serving(self, name: str, text: str) -> Parser:
        parser = self._command(name, text)
        parser.add_argument("tank", metavar="TANK")
        parser.add_argument("feed", metavar="FEED")
        return parser

    def _starting(self) -> None:
        tools = ("verify", "backup", "export", "import", "repair", "accept")
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
        first = _first_word(given)
        if first is not None and given[first] == "help":
            given = [*given[:first], *given[first + 1 :], "--help"]
        elif first is not None and given[first] not in self.commands.choices:
            self._suggest(given[first])
            given.insert(first, "open")
        asked = self.parser.parse_args(given)
        if asked.json and asked.command not in JSON_COMMANDS:
            self.parser.error(f"{asked.command} prints no JSON; {', '.join(sorted(JSON_COMMANDS))} do")
        return asked

    def _suggest(self, word: str) -> None:
        """End with the nearest command where a word that names no file looks like one."""
        if Path(word).suffix or Path(word).exists() or "/" in word:
            return
        near = nearest(word, self.commands.choices)
        hint = f'did you mean "{near}"?' if near else "`rackround help` lists the commands"
        self.parser.error(f'there is no command and no room file "{word}"; {hint}')


def _first_word(words: Sequence[str]) -> int | None:
    """The place of the first word that is neither an option nor an option's value."""
    number = 0
    while number < len(words):
        if words[number] in VALUED:
            number += 1
        elif not words[number].startswith("-"):
            return number
        number += 1
    return None


def _version() -> str:
    try:
        return version("rackround")
    except PackageNotFoundError:  # run from its folder, never installed
        return "from its folder"
