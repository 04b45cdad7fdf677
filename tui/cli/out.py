"""Printing: data to standard output, what went wrong to standard error. Plain text without colour or drawing.

Text from room files, ledgers, imports and file names cannot steer a terminal: characters that would are shown by
their code, in JSON as its own escapes.
"""

from __future__ import annotations

import json
import os
import re
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from threading import Event, Thread
from typing import Any, Final, TextIO

STEERING: Final = re.compile(
    "[\x00-\x1f\x7f-\x9f\u061c\u200b\u200e\u200f\u2028-\u202e\u2060-\u206f\ufeff\ufff9-\ufffb]"
)
"""Control characters, and those that turn the direction of a text or cannot be seen."""


LINE_STEERING: Final = re.compile(STEERING.pattern.replace("\x00-\x1f", "\x00-\x09\x0b\x0c\x0e-\x1f"))
"""The same, but for what ends lines: a table has line ends of its own."""


class CannotPrint(Exception):
    """Standard output cannot be written; `gone` where its reader went away, as `head` does."""

    def __init__(self, text: str, *, gone: bool = False) -> None:
        super().__init__(text)
        self.gone = gone


def visible(text: str) -> str:
    r"""A text in which characters that steer a terminal are shown by their code: `\x1b`, `\u202e`."""
    return STEERING.sub(lambda found: _code(found[0]), text)


def _code(character: str) -> str:
    number = ord(character)
    return f"\\x{number:02x}" if number < 256 else f"\\u{number:04x}"


def say(text: str = "") -> None:
    """One line of data. Raises `CannotPrint`."""
    _print(visible(text))


@contextmanager
def documents_as(shape: Callable[[Any], str] | None) -> Iterator[None]:
    """While this holds, documents are printed in another shape than JSON."""
    global _shape
    before, _shape = _shape, shape
    try:
        yield
    finally:
        _shape = before


_shape: Callable[[Any], str] | None = None


def say_json(document: Any) -> None:
    """A JSON document, indented, in the order it was built; what would steer a terminal is escaped."""
    if _shape is not None:
        text = _shape(document)
        _print(LINE_STEERING.sub(lambda found: _code(found[0]), text), end="")
        return
    text = json.dumps(document, indent=1, ensure_ascii=False)
    lines = (STEERING.sub(lambda found: f"\\u{ord(found[0]):04x}", line) for line in text.split("\n"))
    printed = "\n".join(lines)
    try:
        printed.encode(getattr(sys.stdout, "encoding", None) or "utf-8")
    except UnicodeEncodeError:
        printed = json.dumps(document, indent=1)
    _print(printed)


def confirm(text: str) -> None:
    """One line about what was recorded. It is recorded, so nothing is raised where the line cannot be printed."""
    try:
        say(text)
        finish_printing()
    except CannotPrint as fault:
        give_up_printing()
        if not fault.gone:
            warn(f"rackround: it is recorded, but {fault}")


def warn(text: str) -> None:
    """One line about what went wrong; where even that cannot be written, the exit code is left to say it."""
    with suppress(OSError, ValueError, AttributeError):
        sys.stderr.write(visible(text) + "\n")
        sys.stderr.flush()


@contextmanager
def said_when_slow(text: str, after: float = 1.0, again: float = 10.0) -> Iterator[None]:
    """Say on a terminal what takes so long, after so many seconds and then again and again until it is done."""
    done = Event()

    def speak() -> None:
        seconds = after
        while not done.wait(seconds):
            warn(f"rackround: {text}")
            seconds = again

    speaker = Thread(target=speak, daemon=True)
    if sys.stderr is not None and sys.stderr.isatty():
        speaker.start()
    try:
        yield
    finally:
        done.set()
        if speaker.ident is not None:
            speaker.join()


def finish_printing() -> None:
    """Write out what waits to be printed. Raises `CannotPrint`."""
    with _faults_of_printing():
        if sys.stdout is not None:
            sys.stdout.flush()


def give_up_printing() -> None:
    """Print nothing more, so that Python has nothing to complain of when it ends."""
    with suppress(OSError, ValueError, AttributeError):
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())


def print_any_text() -> None:
    """Show characters that the terminal's encoding lacks by their code, instead of failing."""
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="backslashreplace")


def _print(text: str, end: str = "\n") -> None:
    with _faults_of_printing():
        _out().write(text + end)


def _out() -> TextIO:
    if sys.stdout is None:  # what Python makes of a standard output that was closed from the start
        raise CannotPrint("standard output is closed")
    return sys.stdout


@contextmanager
def _faults_of_printing() -> Iterator[None]:
    try:
        yield
    except BrokenPipeError:
        raise CannotPrint("nobody reads standard output any more", gone=True) from None
    except OSError as fault:
        raise CannotPrint(f"standard output cannot be written: {fault.strerror or fault}") from None
