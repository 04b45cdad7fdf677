"""`rackround passcode`: give a keeper a passcode for the browser, or take it away."""

from __future__ import annotations

import sys
from argparse import Namespace
from getpass import getpass

from schedules.room_file import load_room
from tui.cli.browser.extra import needs_browser
from tui.cli.fault import OK, CommandFault
from tui.cli.options import Options
from tui.cli.out import say
from tui.cli.session import known


def set_passcode(options: Options, asked: Namespace) -> int:
    """Ask for a passcode twice on a terminal, else read a line; keep its hash."""
    room = load_room(options.room_file)
    keeper = known(asked.keeper, [each.name for each in room.keepers], "keeper")
    with needs_browser():
        from tui.serve.passcodes import hashed, passcodes_path, read_passcodes, write_passcodes
    path = passcodes_path(options.room_file)
    hashes = read_passcodes(path)
    if asked.remove:
        if hashes.pop(keeper, None) is None:
            raise CommandFault(f"{keeper} has no passcode")
        write_passcodes(path, hashes)
        say(f"{keeper} has no passcode any more")
        return OK
    try:
        hashes[keeper] = hashed(_typed())
    except ValueError as fault:
        raise CommandFault(str(fault)) from None
    write_passcodes(path, hashes)
    say(f"{keeper} has a passcode now, kept as a hash in {path}")
    return OK


def _typed() -> str:
    if not sys.stdin.isatty():
        return sys.stdin.readline().rstrip("\n")
    code = getpass("Passcode: ")
    if getpass("The same again: ") != code:
        raise CommandFault("these were two different passcodes; nothing was changed")
    return code
