"""What a command may end with besides success."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

OK: Final = 0
FAULT: Final = 2
"""The room file, the ledger or the command's words are at fault."""
REFUSED: Final = 3
"""The serving would break a rule and was not recorded."""


class CommandFault(Exception):
    """A command that cannot go on: the text says what was found and what is allowed."""


class FileFaults(CommandFault):
    """What is wrong with a file, each a line `FILE:LINE: key: what was found, what is allowed`."""

    def __init__(self, lines: Sequence[str]) -> None:
        super().__init__("\n".join(lines))
        self.lines = lines


class Refused(Exception):
    """A serving that was not recorded: the text says which rule forbids it, who gave what and when."""
