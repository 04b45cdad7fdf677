"""Commands about the program itself."""

from __future__ import annotations

from pathlib import Path
from typing import Final

from tui.cli.parser.commands import Commands

SHELLS: Final = ("bash", "zsh", "fish")


def add_software(commands: Commands) -> None:
    """Add the commands about the program itself."""
    doctor = commands.add(
        "doctor", "say what is installed and where things lie, and check a room and its ledger", room=False, json=True
    )
    doctor.add_argument("room", type=Path, nargs="?", metavar="ROOM.toml", help="the room file to check, if any")
    completion = commands.add("completion", "print the script by which a shell completes commands", room=False)
    completion.add_argument("shell", choices=SHELLS, help="which shell")
