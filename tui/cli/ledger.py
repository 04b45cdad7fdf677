"""`rackround ledger`: look after the ledger's file: verify, backup, export, import, repair, accept."""

from __future__ import annotations

from argparse import Namespace
from collections.abc import Callable
from contextlib import closing
from pathlib import Path
from typing import Final

from schedules.ledger.copies.backup import backup
from schedules.ledger.copies.exporting import export_lines, export_to
from schedules.ledger.copies.importing import import_file
from schedules.ledger.copies.repair import repair
from schedules.ledger.copies.verify import oddities, verify
from schedules.ledger.stores.sqlite import accept_lost_end, open_ledger
from tui.cli.fault import FAULT, OK, CommandFault
from tui.cli.out import say, warn
from tui.cli.session import Options, ledger_path


def look_after(options: Options, asked: Namespace) -> int:
    """Run one of the ledger's own commands; none of them needs a sound room file."""
    path = ledger_path(options) if options.room_file.suffix == ".toml" or options.ledger else options.room_file
    return _TOOLS[asked.tool](path, asked.file)


def _verify(path: Path, _file: Path | None) -> int:
    found = verify(path)
    for finding in found:
        warn(f"{path}: {finding}")
    if found:
        return FAULT
    for oddity in oddities(path):
        say(f"unusual: {oddity}")
    say(f"{path}: every entry is as it was written")
    return OK


def _backup(path: Path, file: Path | None) -> int:
    say(f"{backup(path, _named(file))} entries copied to {file}")
    return OK


def _export(path: Path, file: Path | None) -> int:
    with closing(open_ledger(path, create=False)) as ledger:
        if file is None:
            for line in export_lines(ledger):
                say(line)
        else:
            say(f"{export_to(ledger, file)} entries written to {file}")
    return OK


def _import(path: Path, file: Path | None) -> int:
    say(f"{import_file(_named(file), path)} entries read into {path}")
    return OK


def _accept(path: Path, _file: Path | None) -> int:
    say(f"{path}: taken as it is, with {accept_lost_end(path)} entries")
    return OK


def _repair(path: Path, file: Path | None) -> int:
    for finding in repair(path, _named(file)):
        say(finding)
    say(f"what can be read of {path} was written to {file}")
    return OK


def _named(file: Path | None) -> Path:
    if file is None:
        raise CommandFault("name the other file after the room's")
    return file


_TOOLS: Final[dict[str, Callable[[Path, Path | None], int]]] = {
    "verify": _verify,
    "backup": _backup,
    "export": _export,
    "import": _import,
    "repair": _repair,
    "accept": _accept,
}
