"""What all commands share: how the parser prints, the options of every command, how a command is added."""

from __future__ import annotations

from argparse import SUPPRESS, Action, ArgumentParser, RawDescriptionHelpFormatter
from collections.abc import Sequence
from pathlib import Path
from typing import Any, Final, NoReturn

from tui.cli.fault import FAULT
from tui.cli.out import say, warn
from tui.cli.parser.values import ledger_place, moment

DESCRIPTION: Final = """\
The morning round of a shrimp room: what to feed each tank, how much, how, and what to hold back.

  rackround ROOM.toml     open today's round
  rackround demo          look around in an invented room of 48 tanks
  rackround new ROOM.toml write a first room file to fill in
"""

LEDGER_HELP: Final = (
    "the ledger: a path, or postgresql://USER@HOST/DATABASE; else the room file's `ledger`, or ROOM.ledger.db for "
    "ROOM.toml"
)
VALUED: Final = ("--now", "--ledger", "--keys", "--by")
"""Options of every command that are followed by a value."""


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
    common.add_argument("--ledger", type=ledger_place, metavar="PLACE", help=LEDGER_HELP)
    common.add_argument("--keys", type=Path, metavar="FILE", help="a file of own keys and colours")
    if "--by" not in without:
        common.add_argument("--by", metavar="KEEPER", help="who acts; else the room's first keeper")
    text = "print JSON, where the command prints what is planned, due, given or seen"
    shape = common.add_mutually_exclusive_group()
    off = False if default is None else default
    shape.add_argument("--json", action="store_true", help=text, default=off)
    if "--csv" not in without:
        shape.add_argument("--csv", action="store_true", help="print the same as a table (RFC 4180)", default=off)
    return common


class Commands:
    """The parser, to which each group of commands adds its own."""

    def __init__(self) -> None:
        self._options: dict[tuple[str, ...], Parser] = {}
        self.json: set[str] = set()
        """Commands that print JSON where it is asked for."""
        self.parser = Parser(
            prog="rackround",
            description=DESCRIPTION,
            formatter_class=RawDescriptionHelpFormatter,
            allow_abbrev=False,
            parents=[_common(None)],
        )
        self.parser.add_argument("--version", action=_PrintVersion, nargs=0, help="print the version and end")
        self.choices = self.parser.add_subparsers(dest="command", metavar="COMMAND", required=True, parser_class=Parser)

    def add(self, name: str, text: str, *, room: bool = True, json: bool = False, own: Sequence[str] = ()) -> Parser:
        """A command. `own` are options that mean something else to it than to the others."""
        if tuple(own) not in self._options:
            self._options[tuple(own)] = _common(SUPPRESS, own)
        parser: Parser = self.choices.add_parser(
            name, help=text, description=text, parents=[self._options[tuple(own)]], allow_abbrev=False
        )
        if room:
            parser.add_argument("room", type=Path, metavar="ROOM.toml")
        if json:
            self.json.add(name)
        return parser


class _PrintVersion(Action):
    """Print the program's version and end; it is looked up only when it is asked for."""

    def __call__(self, parser: ArgumentParser, *_: object) -> NoReturn:
        say(f"rackround {_version()}")
        parser.exit()


def _version() -> str:
    # Imported here and not above: reading what is installed takes longer than reading the command line.
    from importlib.metadata import PackageNotFoundError, version

    try:
        return version("rackround")
    except PackageNotFoundError:  # run from its folder, never installed
        return "from its folder"
