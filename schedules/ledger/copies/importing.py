"""A fresh ledger from the lines of an export: every number, time and chain as it was, or nothing at all."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator
from itertools import groupby
from pathlib import Path
from typing import Any, NamedTuple

from schedules.ledger.admission import admitted
from schedules.ledger.copies.exporting import FORMAT
from schedules.ledger.entries import AlreadyMarked, Entry, LedgerFault
from schedules.ledger.lines import content_of, entry_of
from schedules.ledger.stores.sqlite.faults import UNREADABLE
from schedules.ledger.stores.sqlite.filling import filling
from schedules.ledger.stores.sqlite.inserting import Inserter


class _Line(NamedTuple):
    number: int
    entry: Entry
    chain: str


def import_lines(lines: Iterable[str], to: Path, source: str = "the import") -> int:
    """Make a ledger at `to`, which must not exist, from the lines of `export_lines`; the number of its entries.

    Raises `LedgerFault` as `SOURCE:LINE: …` for the first line that is wrong, and then leaves nothing behind.
    """
    numbered = ((number, line) for number, line in enumerate(lines, start=1) if line.strip())
    count = _head(next(numbered, (1, "")), source)
    made = 0
    with filling(to) as inserter:
        for _, act in groupby(_read(numbered, source), key=lambda line: line.entry.act):
            made += _add(inserter, tuple(act), source)
        if made != count:
            raise LedgerFault(f"{source}: its head tells of {count} entries, but there are {made}: it was cut short.")
    return made


def _values(number: int, line: str, source: str) -> dict[str, Any]:
    try:
        values = json.loads(line)
    except (ValueError, RecursionError) as error:
        raise LedgerFault(f"{source}:{number}: this is no line of JSON ({error}).") from None
    if not isinstance(values, dict):
        raise LedgerFault(f"{source}:{number}: a JSON object is expected, found {line[:40]!r}.")
    return values


def _head(first: tuple[int, str], source: str) -> int:
    values = _values(*first, source)
    count = values.get("entries")
    if values.get("format") != FORMAT or not isinstance(count, int):
        raise LedgerFault(
            f'{source}:{first[0]}: the head {{"format":"{FORMAT}","entries":…}} is expected, found {first[1][:60]!r}.'
        )
    return count


def _read(numbered: Iterable[tuple[int, str]], source: str) -> Iterator[_Line]:
    for number, line in numbered:
        values = _values(number, line, source)
        try:
            yield _Line(number, entry_of(values), str(values["chain"]))
        except UNREADABLE as error:
            raise LedgerFault(f"{source}:{number}: this is no entry ({type(error).__name__}: {error}).") from None


def _add(inserter: Inserter, act: tuple[_Line, ...], source: str) -> int:
    """Write one act and compare what was made with what the lines say."""
    number, first, _ = act[0]
    if len({(line.entry.day, line.entry.at, line.entry.by) for line in act}) > 1:
        raise LedgerFault(f"{source}:{number}: the entries of act {first.act} differ in day, time or keeper.")
    try:
        what, at = admitted([line.entry.what for line in act], first.day, first.at, first.by)
        made = inserter.insert(what, [content_of(one) for one in what], first.day, at, first.by)
    except AlreadyMarked as error:
        raise LedgerFault(f"{source}:{number}: {error} (entry {error.winner.seq}).") from None
    except LedgerFault as error:
        raise LedgerFault(f"{source}:{number}: {error}") from None
    for line, entry, chain in zip(act, made, inserter.chains, strict=True):
        if line.entry.seq != entry.seq or line.chain != chain.hex():
            raise LedgerFault(
                f"{source}:{line.number}: this does not follow from the line before it: something was altered."
            )
    return len(act)
