"""Commands about chores."""

from __future__ import annotations

from tui.cli.parser.commands import Commands
from tui.cli.parser.values import day


def add_chores(commands: Commands) -> None:
    """Add the commands about chores."""
    chores = commands.add("chores", "print which chores are due where, and since when", json=True)
    chores.add_argument("--on", type=day, metavar="DATE", help="on which day; else today")
    did = commands.add("did", "record that a chore was done, or left out with a reason")
    did.add_argument("chore", metavar="CHORE", help="its id in the room file")
    did.add_argument("place", nargs="?", metavar="TANK|RACK", help="where, if the chore has more than one place")
    did.add_argument("--because", metavar="TEXT", help="it was left out, for this reason")
    did.add_argument("--on", type=day, metavar="DATE", help="the day it was done; else today")
