"""From a path to a text: what can go wrong before there is any TOML to speak of."""

from __future__ import annotations

import stat
from pathlib import Path
from typing import Final

from schedules.room_file.faults import Fault
from schedules.room_file.show import meant

LARGEST: Final = 2 * 1024 * 1024
"""Bytes of the largest file that is read; a thousand tanks take about a quarter of a million."""


MOST_KEY_PARTS: Final = 16
"""Parts of one dotted key. The parser's work grows with the square of them; the deepest key of a room has five."""


class TextFault(Exception):
    """The file gives no text; `fault` says why."""

    def __init__(self, message: str, line: int | None = None, key: str = "file") -> None:
        super().__init__(message)
        self.fault = Fault(line, key, message)


def file_bytes(path: Path) -> bytes:
    """The bytes of an ordinary file. Raises `TextFault` where there is none, or it cannot be read or is too large."""
    try:
        mode = path.stat().st_mode
        if stat.S_ISDIR(mode):
            raise TextFault(f"found a directory, allowed is a file of TOML text{_room_files_in(path)}")
        if not stat.S_ISREG(mode):
            raise TextFault("found a device or pipe, allowed is an ordinary file of TOML text")
        with path.open("rb") as file:
            content = file.read(LARGEST + 1)
    except FileNotFoundError:
        raise TextFault(f"found no file of this name, allowed is a file that exists{_file_meant(path)}") from None
    except PermissionError:
        raise TextFault("found a file that may not be read, allowed is one with permission to read it") from None
    except (OSError, ValueError) as error:
        reason = error.strerror if isinstance(error, OSError) and error.strerror else "not a possible file name"
        raise TextFault(f"found a file that cannot be read ({reason}), allowed is a readable file") from error
    if len(content) > LARGEST:
        raise TextFault(f"found more than {LARGEST // 1024} KiB, allowed is at most that much text")
    return content


def decoded(content: bytes) -> str:
    """UTF-8 bytes as text, a byte order mark before them left out. Raises `TextFault` for any other encoding."""
    if content.startswith((b"\xff\xfe", b"\xfe\xff")):
        raise TextFault("found UTF-16 text, allowed is UTF-8; save the file as UTF-8", 1, "encoding")
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = content.count(b"\n", 0, error.start) + 1
        byte = content[error.start]
        message = f"found the byte 0x{byte:02X}, which is no UTF-8{_perhaps(byte)}, allowed is UTF-8 text"
        raise TextFault(f"{message}; save the file as UTF-8", line, "encoding") from error
    if "\x00" in text:
        line = text.count("\n", 0, text.index("\x00")) + 1
        raise TextFault("found a zero byte, allowed is UTF-8 text; save the file as UTF-8", line, "encoding")
    return text


def _perhaps(byte: int) -> str:
    letter = bytes([byte]).decode("cp1252", "ignore")
    return f' (perhaps "{letter}" in Windows-1252 or Latin-1)' if letter.isprintable() and letter else ""


def _file_meant(path: Path) -> str:
    try:
        return meant(path.name, sorted(beside.name for beside in path.parent.glob("*.toml")))
    except (OSError, ValueError):
        return ""


def _room_files_in(path: Path) -> str:
    try:
        names = sorted(inside.name for inside in path.glob("*.toml"))
    except OSError:
        return ""
    return f"; in it there is {names[0]}" if names else ""
