"""From the command line's words to what is asked."""

from __future__ import annotations

from argparse import Namespace
from collections.abc import Sequence
from pathlib import Path
from typing import Final

from tui.cli.options import nearest
from tui.cli.parser.away import add_away
from tui.cli.parser.browser import add_browser
from tui.cli.parser.chores import add_chores
from tui.cli.parser.commands import VALUED, Commands
from tui.cli.parser.keeping import add_keeping
from tui.cli.parser.makeup import add_make_up
from tui.cli.parser.reading import add_reading
from tui.cli.parser.recording import add_recording
from tui.cli.parser.software import add_software
from tui.cli.parser.stock import add_stock
from tui.cli.parser.water import add_water

GROUPS: Final = (
    add_reading,
    add_recording,
    add_chores,
    add_stock,
    add_away,
    add_water,
    add_make_up,
    add_browser,
    add_keeping,
    add_software,
)
"""The groups of commands, in the order in which help lists them."""


class Words:
    """The parser of all commands, built once a run."""

    def __init__(self) -> None:
        self.commands = Commands()
        for add in GROUPS:
            add(self.commands)

    def read(self, words: Sequence[str]) -> Namespace:
        """What was asked; a room file named alone asks to open it. Ends the program with code 2 on other words."""
        given = list(words)
        first = _first_word(given)
        if first is not None and given[first] == "help":
            given = [*given[:first], *given[first + 1 :], "--help"]
        elif first is not None and given[first] not in self.commands.choices.choices:
            self._suggest(given[first])
            given.insert(first, "open")
        asked = self.commands.parser.parse_args(given)
        # Of a command that reads a CSV file, the option names that file.
        if (asked.json or asked.csv is True) and asked.command not in self.commands.json:
            shape = "JSON" if asked.json else "table"
            self.commands.parser.error(f"{asked.command} prints no {shape}; {', '.join(sorted(self.commands.json))} do")
        return asked

    def _suggest(self, word: str) -> None:
        """End with the nearest command where a word that names no file looks like one."""
        # Imported here and not above: only a word that is no command needs it.
        from schedules.room.place import is_address

        if is_address(word):
            self.commands.parser.error("name the room file first; the address of its ledger goes after --ledger")
        if Path(word).suffix or Path(word).exists() or "/" in word:
            return
        near = nearest(word, self.commands.choices.choices)
        hint = f'did you mean "{near}"?' if near else "`rackround help` lists the commands"
        self.commands.parser.error(f'there is no command and no room file "{word}"; {hint}')


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
