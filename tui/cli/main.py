"""From the command line's words to a command, and from what it ends with to an exit code."""

from __future__ import annotations

import sys
from argparse import Namespace
from collections.abc import Callable, Iterable, Sequence
from importlib import import_module
from pathlib import Path
from typing import Final

from tui.cli.fault import FAULT, OK, REFUSED, CommandFault, FileFaults, Refused
from tui.cli.options import Options
from tui.cli.out import CannotPrint, documents_as, finish_printing, give_up_printing, print_any_text, say, warn
from tui.cli.parser import DESCRIPTION, Words
from tui.garbage import go_on

COMMANDS = {
    "open": "tui.cli.dashboard:open_dashboard",
    "demo": "tui.cli.dashboard:open_demo",
    "first": "tui.cli.dashboard:open_first",
    "check": "tui.cli.printing.check:check",
    "plan": "tui.cli.printing.plan:print_plan",
    "round": "tui.cli.printing.round:print_round",
    "missed": "tui.cli.printing.missed:print_missed",
    "flags": "tui.cli.printing.flags:print_flags",
    "give": "tui.cli.marks:give_serving",
    "skip": "tui.cli.marks:skip_serving",
    "leftovers": "tui.cli.marks:report_leftovers",
    "came": "tui.cli.marks:report_response",
    "note": "tui.cli.marks:write_note",
    "seen": "tui.cli.seen:mark_seen",
    "chores": "tui.cli.printing.chores:print_chores",
    "did": "tui.cli.printing.chores:record_chore",
    "saw": "tui.cli.printing.lives:record_sighting",
    "survival": "tui.cli.printing.survival:print_survival",
    "lines": "tui.cli.printing.lines:print_lines",
    "changed": "tui.cli.printing.changed:print_changed",
    "expected": "tui.cli.printing.expected:print_expected",
    "lives": "tui.cli.printing.lives:print_lives",
    "leave": "tui.cli.printing.leave:plan_leave",
    "returned": "tui.cli.returned:enter_sheet",
    "report": "tui.cli.printing.report:print_report",
    "topoff": "tui.cli.water.makeup:print_top_off",
    "makeup": "tui.cli.water.makeup:print_make_up",
    "pour": "tui.cli.water.makeup:record_pour",
    "read": "tui.cli.water.read:record_readings",
    "water": "tui.cli.water.overview:print_water",
    "undo": "tui.cli.marks:undo_last",
    "new": "tui.cli.new:write_starter",
    "prepare": "tui.cli.printing.prepare:print_prepare",
    "lookback": "tui.cli.printing.prepare:print_lookback",
    "calendar": "tui.cli.paper.calendar:write_calendar",
    "stock": "tui.cli.stock.stock:print_stock",
    "delivered": "tui.cli.stock.stock:record_delivery",
    "opened": "tui.cli.stock.stock:record_opening",
    "weighed": "tui.cli.stock.stock:record_weighing",
    "serve": "tui.cli.browser.serve:serve",
    "passcode": "tui.cli.browser.passcode:set_passcode",
    "ledger": "tui.cli.ledger:look_after",
    "doctor": "tui.cli.software.doctor:examine",
    "completion": "tui.cli.software.completion:print_completion",
}
"""Where each command is; a run loads the one it needs, so that none waits for another's imports."""


WITH_DASHBOARD: Final = frozenset(("open", "demo", "first"))
"""The commands that open the dashboard."""
NOTHING_NAMED: Final = Namespace(command="first", now=None, ledger=None, by=None, keys=None, json=False, csv=False)
"""What is asked by `rackround` alone."""


def run(words: Sequence[str]) -> int:
    """Run one command and return its exit code: 0, 2 (a fault) or 3 (refused)."""
    print_any_text()
    try:
        return _printed(_asked(words))
    except CannotPrint as fault:
        give_up_printing()
        if fault.gone:
            return OK
        return _faulty([f"rackround: {fault}"])
    except KeyboardInterrupt:
        return 130


def _printed(asked: Namespace | int) -> int:
    """The command's exit code, once all it printed is out."""
    code = asked if isinstance(asked, int) else _ended(asked)
    finish_printing()
    return code


def _asked(words: Sequence[str]) -> Namespace | int:
    """What the words ask for, or the exit code where they were answered already."""
    if not words and not sys.stdin.isatty():
        for line in DESCRIPTION.rstrip().split("\n"):
            say(line)
        return OK
    try:
        return Words().read(words) if words else NOTHING_NAMED
    except SystemExit as ended:
        return int(ended.code or 0)


def _ended(asked: Namespace) -> int:
    try:
        if asked.csv is True:
            return _as_table(asked)
        return _run(asked)
    except FileFaults as faults:
        return _faulty(faults.lines)
    except CommandFault as fault:
        return _faulty(f"rackround: {fault}".split("\n"))
    except Refused as refused:
        warn(f"refused: {refused}")
        return REFUSED
    except Exception as error:
        return _faulty(_lines_about(error))


def _lines_about(error: Exception) -> Sequence[str]:
    """What a faulty room file or ledger is said in; any other error is raised again."""
    # Imported here and not above: `--version`, help and a command that reads no room wait for neither.
    from schedules.ledger import LedgerFault
    from schedules.room_file import RoomFileFaults

    if isinstance(error, RoomFileFaults):
        return error.lines()
    if isinstance(error, LedgerFault):
        return f"rackround: {error}".split("\n")
    raise error


def _run(asked: Namespace) -> int:
    """Run a command; the dashboard says by itself when its start is over."""
    command = _command(asked.command)
    if asked.command not in WITH_DASHBOARD:
        go_on()
    return command(options(asked), asked)


def _as_table(asked: Namespace) -> int:
    """Run a command for its JSON, and print the main list of it as a table."""
    # Imported here and not above: nothing else needs it.
    from tui.cli.table import csv_text

    asked.json = True
    with documents_as(lambda document: csv_text(asked.command, document)):
        return _run(asked)


def _faulty(lines: Iterable[str]) -> int:
    for line in lines:
        warn(line)
    return FAULT


def options(asked: Namespace) -> Options:
    """The options that every command has."""
    return Options(getattr(asked, "room", None) or Path(), asked.now, asked.ledger, asked.by, asked.keys)


def _command(name: str) -> Callable[[Options, Namespace], int]:
    module, function = COMMANDS[name].split(":")
    found: Callable[[Options, Namespace], int] = getattr(import_module(module), function)
    return found
