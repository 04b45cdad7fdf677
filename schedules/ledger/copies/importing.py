"""A new ledger from the lines of an export: every number, time and chain as it was, or nothing at all."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator
from itertools import groupby, islice
from pathlib import Path
from typing import Any, Final, NamedTuple, TextIO

from schedules.ledger.admission import admitted
from schedules.ledger.copies.exporting import FORMAT
from schedules.ledger.entry import AlreadyMarked, LedgerFault
from schedules.ledger.fields import shown
from schedules.ledger.lines import Draft, Record, record_from
from schedules.ledger.stores.faults import UNREADABLE
from schedules.ledger.stores.filling import filling_at
from schedules.ledger.stores.sqlite.inserting import Inserter
from schedules.room.place import Place

LONGEST: Final = 1 << 24
"""Characters of a line at most. A plan of 1,000 tanks for 28 days takes about a tenth of it."""
MOST_OF_ACT: Final = 100_000
"""Entries of one act at most: a whole rack of 1,000 tanks marked at once has fewer."""


class _Line(NamedTuple):
    number: int
    record: Record
    draft: Draft
    chain: str


def import_file(source: Path, to: Place) -> int:
    """Make a ledger at `to`, where there must be none, from an exported file; the number of its entries.

    Raises `LedgerFault` as `SOURCE:LINE: …` for the first line that is wrong, and then leaves nothing behind. Never
    holds more than one act of the file in memory.
    """
    try:
        with source.open(encoding="utf-8", newline="\n") as file:
            return import_lines(_bounded(file, str(source)), to, str(source))
    except OSError as fault:
        raise LedgerFault(f"{source}: cannot be read: {fault.strerror or fault}") from None
    except UnicodeDecodeError as fault:
        raise LedgerFault(f"{source}: this is not a text in UTF-8 (byte {fault.start}: {fault.reason})") from None


def _bounded(file: TextIO, source: str) -> Iterator[str]:
    """The lines of a file; a fault instead of a line that is too long to be one of an export."""
    number = 0
    while line := file.readline(LONGEST + 1):
        number += 1
        if len(line) > LONGEST:
            raise LedgerFault(f"{source}:{number}: found a line of more than {LONGEST} characters, allowed are so many")
        yield line


def import_lines(lines: Iterable[str], to: Place, source: str = "the import") -> int:
    """Make a ledger at `to`, where there must be none, from the lines of `export_lines`; see `import_file`."""
    numbered = ((number, line) for number, line in enumerate(lines, start=1) if line.strip())
    count = _head(next(numbered, (1, "")), source)
    made = 0
    with filling_at(to) as inserter:
        for _, act in groupby(_read(numbered, source), key=lambda line: line.record.act):
            made += _add(inserter, tuple(islice(act, MOST_OF_ACT + 1)), source)
        if made != count:
            raise LedgerFault(f"{source}: its head says {count} entries, found {made}: lines were lost or added")
    return made


def _values(number: int, line: str, source: str) -> dict[str, Any]:
    try:
        values = json.loads(line)
    except (ValueError, RecursionError) as error:
        raise LedgerFault(f"{source}:{number}: this is not a line of JSON ({error})") from None
    if not isinstance(values, dict):
        raise LedgerFault(f"{source}:{number}: found {shown(values)}, allowed is a JSON object")
    return values


def _head(first: tuple[int, str], source: str) -> int:
    values = _values(*first, source)
    count = values.get("entries")
    if values.get("format") != FORMAT or type(count) is not int:
        raise LedgerFault(
            f'{source}:{first[0]}: found {shown(values)}, allowed is the head {{"format":"{FORMAT}","entries":…}}'
        )
    return count


def _read(numbered: Iterable[tuple[int, str]], source: str) -> Iterator[_Line]:
    for number, line in numbered:
        values = _values(number, line, source)
        try:
            record = record_from(values)
            yield _Line(number, record, record.draft, str(values.get("chain")))
        except UNREADABLE as error:
            raise LedgerFault(f"{source}:{number}: {_said(error)}") from None


def _said(error: Exception) -> str:
    """What a wrong line is refused with: key, found and allowed where that is known."""
    return str(error) if isinstance(error, ValueError) else f"this is not an entry ({type(error).__name__}: {error})"


def _add(inserter: Inserter, act: tuple[_Line, ...], source: str) -> int:
    """Write one act and compare what was made with what the lines say."""
    number, first = act[0].number, act[0].record
    if len(act) > MOST_OF_ACT:
        raise LedgerFault(f"{source}:{number}: act {first.act} has more than the allowed {MOST_OF_ACT} entries")
    if len({(line.record.day, line.record.at, line.record.by) for line in act}) > 1:
        raise LedgerFault(f"{source}:{number}: the entries of act {first.act} differ in day, time or keeper")
    try:
        admitted([line.draft.what for line in act], first.day, first.at, first.by)
        made = inserter.insert([line.draft for line in act], first.day, first.at, first.by)
    except AlreadyMarked as error:
        raise LedgerFault(f"{source}:{number}: {error} (entry {error.winner.seq})") from None
    except LedgerFault as error:
        raise LedgerFault(f"{source}:{number}: {error}") from None
    for line, entry, chain in zip(act, made, inserter.chains, strict=True):
        if (line.record.seq, line.record.act, line.chain) != (entry.seq, entry.act, chain.hex()):
            raise LedgerFault(f"{source}:{line.number}: this does not follow from the line before it: it was changed")
    return len(act)
