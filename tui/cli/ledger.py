"""`rackround ledger`: look after the ledger's file: verify, backup, export, import, repair."""

from __future__ import annotations

from argparse import Namespace
from pathlib import Path

from schedules.ledger.copies.backup import backup
from schedules.ledger.copies.exporting import export_lines
from schedules.ledger.copies.importing import import_lines
from schedules.ledger.copies.repair import repair
from schedules.ledger.copies.verify import oddities, verify
from schedules.ledger.stores.sqlite import open_ledger
from tui.cli.fault import FAULT, OK, CommandFault
from tui.cli.out import say, warn
from tui.cli.session import Options, ledger_path


def look_after(options: Options, asked: Namespace) -> int:
    """Run one of the ledger's own commands; none of them needs a sound room file."""
    path = ledger_path(options) if options.room_file.suffix == ".toml" or options.ledger else options.room_file
    return {"verify": _verify, "backup": _backup, "export": _export, "import": _import, "repair": _repair}[asked.tool](
        path, asked.file
    )


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
    ledger = open_ledger(path, create=False)
    try:
        if file is None:
            for line in export_lines(ledger):
                say(line)
        else:
            _write_new(file, "\n".join(export_lines(ledger)) + "\n")
            say(f"{ledger.last_seq()} entries written to {file}")
    finally:
        ledger.close()
    return OK


def _write_new(file: Path, text: str) -> None:
    try:
        with file.open("x", encoding="utf-8") as out:
            out.write(text)
    except OSError as fault:
        raise CommandFault(f"{file}: {fault.strerror}; nothing was overwritten") from None


def _import(path: Path, file: Path | None) -> int:
    source = _named(file)
    try:
        with source.open(encoding="utf-8") as lines:
            say(f"{import_lines(lines, path, str(source))} entries read into {path}")
    except (OSError, UnicodeDecodeError) as fault:
        raise CommandFault(f"{source}: cannot be read: {fault}") from None
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
