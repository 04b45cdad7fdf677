"""A ledger as JSON Lines: a head, then one line for each entry, each with its chain. README.md describes the lines."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import islice
from pathlib import Path
from typing import Final

from schedules.ledger.compact import compact
from schedules.ledger.ledger import Ledger
from schedules.ledger.lines import FIRST_CHAIN, next_chain
from schedules.ledger.stores.faults import fault
from schedules.ledger.stores.files import whole
from schedules.ledger.stores.sqlite.faults import faults_of

FORMAT: Final = "rackround-ledger/1"


def export_lines(ledger: Ledger) -> Iterator[str]:
    """Every line of the export, without line ends; others may go on writing, what they add is not in it."""
    count = ledger.last_seq()
    yield compact({"format": FORMAT, "entries": count})
    chain = FIRST_CHAIN
    for line in islice(ledger.lines(), count):
        chain = next_chain(chain, line)
        yield f'{line[:-1]},"chain":"{chain.hex()}"}}'


def export_to(ledger: Ledger, to: Path) -> int:
    """Write the export to a new file for its owner only, which appears whole or not at all; the number of entries.

    Raises `LedgerFault` where `to` exists already or cannot be written.
    """
    if to.exists():
        raise fault(to, "this file exists already and was not changed. Name another.")
    count = -1
    with faults_of(to), whole(to) as new, new.open("w", encoding="ascii", newline="\n") as lines:
        for line in export_lines(ledger):
            lines.write(f"{line}\n")
            count += 1
    return count
