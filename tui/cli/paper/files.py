"""Writing a file that was asked for, and the one line where the extra that makes it is missing."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from tui.cli.fault import CommandFault


@contextmanager
def needs_extra(what: str) -> Iterator[None]:
    """Turn a missing library into a fault that says what to install."""
    try:
        yield
    except ModuleNotFoundError as missing:
        raise CommandFault(
            f"{what} needs the extra `paper` ({missing.name} is missing): pip install 'rackround[paper]'"
        ) from None


def write_file(path: Path, content: bytes) -> None:
    """Write a whole file, instead of any that is there."""
    try:
        path.write_bytes(content)
    except OSError as fault:
        raise CommandFault(f"cannot write {path}: {fault.strerror or fault}") from None


def ending(path: Path, *allowed: str) -> str:
    """The ending of a file's name, which says what it is to be."""
    found = path.suffix.lower()
    if found not in allowed:
        raise CommandFault(f'"{path}" ends in "{path.suffix}"; allowed is {" or ".join(allowed)}')
    return found
