"""Writes the manual page, `tui/man/rackround.1`, from the parser of the command line.

`make modules` writes it; a test compares it with the parser. A wheel carries it, so that `man rackround` finds it.
"""

from __future__ import annotations

from argparse import ArgumentParser, _SubParsersAction
from pathlib import Path
from typing import Final

from build_manpages.manpage import Manpage

from tests.house.pages import COMMON
from tui.cli.parser import Words

MANUAL: Final = Path(__file__).parents[2] / "tui" / "man" / "rackround.1"
HEAD: Final = '.TH RACKROUND "1" "" "rackround" "User Commands"'
"""Without a date, so that the page changes only with the parser."""


def manual() -> str:
    """The manual page in roff."""
    parser = Words().commands.parser
    for action in parser._actions:
        if isinstance(action, _SubParsersAction):
            for command in action.choices.values():
                _drop_common(command)
    parser.man_short_description = "the morning round of a shrimp room"  # type: ignore[attr-defined]
    lines = str(Manpage(parser)).rstrip("\n").split("\n")
    return "\n".join([HEAD, *(line.rstrip() for line in lines[1:])]) + "\n"


def _drop_common(command: ArgumentParser) -> None:
    """Leave out of a command's own section what every command takes: it stands at the top of the page."""
    for group in command._action_groups:
        group._group_actions = [each for each in group._group_actions if each.dest not in COMMON]


def write() -> None:
    """Write the page."""
    MANUAL.parent.mkdir(exist_ok=True)
    MANUAL.write_text(manual(), encoding="utf-8")
