"""Commands that make a room or look after its ledger."""

from __future__ import annotations

from pathlib import Path

from tui.cli.parser.commands import Commands
from tui.cli.parser.values import ledger_place


def add_keeping(commands: Commands) -> None:
    """Add the commands that make a room or look after its ledger."""
    tools = ("verify", "backup", "export", "import", "copy", "repair", "accept")
    ledger = commands.add("ledger", "look after the ledger", room=False)
    ledger.add_argument("tool", choices=tools, help="what to do")
    ledger.add_argument(
        "ledger_of", type=ledger_place, metavar="ROOM.toml", help="the room file, or the ledger itself: file or address"
    )
    ledger.add_argument(
        "other", type=ledger_place, nargs="?", metavar="FILE", help="the other one: an export, a copy's file or address"
    )
    new = commands.add("new", "write a first room file, asking a few questions")
    new.add_argument("--yes", action="store_true", help="ask nothing, take the usual answers")
    demo = commands.add("demo", "open an invented room of 48 tanks with a past of 60 days", room=False)
    demo.add_argument("--keep", type=Path, metavar="FOLDER", help="put the room and its ledger here and leave them")
