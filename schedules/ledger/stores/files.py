"""Files that appear whole or not at all, for their owner only."""

from __future__ import annotations

import os
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from tempfile import mkstemp
from typing import Final

BESIDE: Final = ("-wal", "-shm", "-journal")
"""What a ledger that is open has beside it."""


def sync_directory(directory: Path) -> None:
    """Make a new or renamed file's name survive a power cut."""
    handle = os.open(directory, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)


def sync_file(path: Path) -> None:
    """Wait until a file's content is on the disk."""
    handle = os.open(path, os.O_RDWR)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)


@contextmanager
def whole(path: Path, *, replace: bool = False) -> Iterator[Path]:
    """A new empty file of mode 0600 to fill, which becomes `path` at the end, on the disk with its name.

    Where the body fails nothing is left. Where `path` exists by then, FileExistsError, unless `replace`.
    """
    handle, name = mkstemp(prefix=f".{path.name}.", suffix=".new", dir=path.parent)
    os.close(handle)
    filled = Path(name)
    try:
        yield filled
        sync_file(filled)
        if replace:
            filled.replace(path)
        else:
            _claim(filled, path)
        sync_directory(path.parent)
    finally:
        for left in (filled, *(filled.with_name(filled.name + tail) for tail in BESIDE)):
            with suppress(FileNotFoundError):
                left.unlink()


def _claim(filled: Path, path: Path) -> None:
    """Give a file its name, which nobody may have: one of two that try at once gets it."""
    try:
        os.link(filled, path)
    except FileExistsError:
        raise
    except OSError:  # a file system without links: claim the name with an empty file, then put the full one there
        os.close(os.open(path, os.O_CREAT | os.O_EXCL | os.O_WRONLY, 0o600))
        filled.replace(path)
