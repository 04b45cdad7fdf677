"""The description of the ledger's lines, made from the kinds as they are declared.

`python -m schedules.ledger.documentation` prints it; the ledger's README.md holds a copy, which a test compares.
"""

from __future__ import annotations

import sys
from collections.abc import Iterator
from typing import Any

import schedules.ledger.entries  # noqa: F401 (declares the kinds)
from schedules.ledger.declaration import EntryKind, kinds


def format_lines() -> Iterator[str]:
    """The description as lines of Markdown: one table for each kind, by name."""
    for kind in kinds():
        yield from _kind_lines(kind)


def _kind_lines(kind: EntryKind[Any]) -> Iterator[str]:
    yield f"### `{kind.name}`, schema version {kind.version}"
    yield ""
    yield f"{kind.meaning[:1].upper()}{kind.meaning[1:]}.{_rules(kind)}"
    yield ""
    if kind.codec is not None:
        yield from (f"- {line}" for line in kind.codec.description())
    else:
        yield "| key | value | unit | meaning |"
        yield "| --- | --- | --- | --- |"
        for form in kind.forms:
            yield f"| `{form.key}` | {form.allowed} | {form.field.unit or ''} | {form.field.meaning} |"
    yield ""
    for version, earlier in enumerate(kind.earlier, start=1):
        yield f"Version {version} had the keys {', '.join(f'`{key}`' for key in earlier.keys)}."
        yield ""


def _rules(kind: EntryKind[Any]) -> str:
    said = ""
    if kind.alone:
        said += " An act of its own."
    if kind.undoes is not None:
        said += " Takes an act back."
    if not kind.undoable:
        said += " Cannot be undone."
    return said


if __name__ == "__main__":
    sys.stdout.write("\n".join(format_lines()))
