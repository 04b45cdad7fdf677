"""Commands that make a room or look after its ledger."""

from __future__ import annotations

from pathlib import Path

from tui.cli.parser.commands import Commands


def add_keeping(commands: Commands) -> None:
    """Add the commands that make a room or look after its ledger."""
    tools = ("verify", "backup", "export", "import", "repair", "accept")
    ledger = commands.add("ledger", "look after the ledger's file", room=False)
    ledger.add_argument("tool", choices=tools, help="what to do")
    ledger.add_argument("room", type=Path, metavar="ROOM.toml", help="the room file, or the ledger itself")
    ledger.add_argument("file", type=Path, nargs="?", metavar="FILE", help="the other file: a copy, an export")
    new = commands.add("new", "write a first room file, asking a few questions")
    new.add_argument("--yes", action="store_true", help="ask nothing, take the usual answers")
    demo = commands.add("demo", "open an invented room of 48 tanks with a past of 60 days", room=False)
    demo.add_argument("--keep", type=Path, metavar="FOLDER", help="put the room and its ledger here and leave them")
