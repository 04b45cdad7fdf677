"""The command line's words: one file for each group of commands. Read `words.py` first.

In: the words. Out: what is asked, as a namespace. A new group is a file here with one function, called in `words.py`.
"""

from tui.cli.parser.commands import DESCRIPTION
from tui.cli.parser.reading import COHORTS_BY
from tui.cli.parser.words import Words

__all__ = ["COHORTS_BY", "DESCRIPTION", "Words"]
