"""Commands about the dashboard in a browser."""

from __future__ import annotations

from pathlib import Path

from tui.cli.parser.commands import Commands
from tui.cli.parser.values import whole


def add_browser(commands: Commands) -> None:
    """Add the commands about the dashboard in a browser."""
    serve = commands.add("serve", "show the dashboard in a browser: on this machine, or with passcodes in the network")
    serve.add_argument("--host", default="localhost", metavar="ADDRESS", help="where to listen; else here alone")
    serve.add_argument("--port", type=whole(0, 65535), default=8808, metavar="N", help="the port; else 8808")
    serve.add_argument(
        "--name", action="append", default=[], metavar="HOST", help="another name by which it may be asked"
    )
    serve.add_argument("--cert", type=Path, metavar="FILE", help="a certificate (PEM) for https")
    serve.add_argument("--key", type=Path, metavar="FILE", help="its key, where it is in a file of its own")
    passcode = commands.add("passcode", "give a keeper a passcode for the browser (asked for, or a line of input)")
    passcode.add_argument("keeper", metavar="KEEPER")
    passcode.add_argument("--remove", action="store_true", help="take it away")
