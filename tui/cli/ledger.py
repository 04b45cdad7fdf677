"""`rackround ledger`: look after the ledger: verify, backup, export, import, copy, repair, accept."""

from __future__ import annotations

from argparse import Namespace
from collections.abc import Callable
from contextlib import closing
from dataclasses import replace
from pathlib import Path
from typing import Final

from schedules.ledger.copies.backup import backup
from schedules.ledger.copies.copying import copy_ledger
from schedules.ledger.copies.exporting import export_lines, export_to
from schedules.ledger.copies.importing import import_file
from schedules.ledger.copies.repair import repair
from schedules.ledger.copies.verify import oddities, verify
from schedules.ledger.stores.opening import open_at
from schedules.ledger.stores.sqlite import accept_lost_end
from schedules.room.place import Place, Server
from tui.cli.fault import FAULT, OK, CommandFault
from tui.cli.options import Options
from tui.cli.out import say, warn
from tui.cli.session import ledger_place


def look_after(options: Options, asked: Namespace) -> int:
    """Run one of the ledger's own commands; none of them needs a sound room file."""
    return _TOOLS[asked.tool](_meant(options, asked.ledger_of), asked.other)


def _meant(options: Options, named: Place) -> Place:
    """The ledger of a room file, or the ledger itself that was named."""
    if isinstance(named, Server):
        return named
    if named.suffix == ".toml" or options.ledger:
        return ledger_place(replace(options, room_file=named))
    return named


def _verify(place: Place, _other: Place | None) -> int:
    found = verify(place)
    for finding in found:
        warn(f"{place}: {finding}")
    if found:
        return FAULT
    for oddity in oddities(place):
        say(f"unusual: {oddity}")
    say(f"{place}: every entry is as it was written")
    return OK


def _backup(place: Place, other: Place | None) -> int:
    to = _file(other)
    say(f"{backup(place, to)} entries copied to {to}")
    return OK


def _export(place: Place, other: Place | None) -> int:
    with closing(open_at(place, create=False)) as ledger:
        if other is None:
            for line in export_lines(ledger):
                say(line)
        else:
            say(f"{export_to(ledger, _file(other))} entries written to {other}")
    return OK


def _import(place: Place, other: Place | None) -> int:
    say(f"{import_file(_file(other), place)} entries read into {place}")
    return OK


def _copy(place: Place, other: Place | None) -> int:
    if other is None:
        raise CommandFault("name where the copy goes after the ledger: a file, or postgresql://USER@HOST/DATABASE")
    say(f"{copy_ledger(place, other)} entries copied to {other}")
    return OK


def _accept(place: Place, _other: Place | None) -> int:
    path = _own_file(place, "only the end of a file can be lost; a server looks after its own")
    say(f"{path}: taken as it is, with {accept_lost_end(path)} entries")
    return OK


def _repair(place: Place, other: Place | None) -> int:
    path = _own_file(place, "a server is repaired with its own tools; bring back a backup, or import an export")
    to = _file(other)
    for finding in repair(path, to):
        say(finding)
    say(f"what can be read of {path} was written to {to}")
    return OK


def _own_file(place: Place, otherwise: str) -> Path:
    if isinstance(place, Server):
        raise CommandFault(f"{place}: {otherwise}")
    return place


def _file(other: Place | None) -> Path:
    if other is None:
        raise CommandFault("name the other file after the room's")
    if isinstance(other, Server):
        raise CommandFault(f"{other}: a file is needed here; `rackround ledger copy` copies to a server")
    return other


_TOOLS: Final[dict[str, Callable[[Place, Place | None], int]]] = {
    "verify": _verify,
    "backup": _backup,
    "export": _export,
    "import": _import,
    "copy": _copy,
    "repair": _repair,
    "accept": _accept,
}
