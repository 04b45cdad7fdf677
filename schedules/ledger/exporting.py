"""A ledger as JSON Lines: a head, then one line for each entry, each with its chain. README.md describes the lines."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import islice
from typing import Final

from schedules.ledger.ledger import Ledger
from schedules.ledger.lines import FIRST_CHAIN, compact, line_of, next_chain

FORMAT: Final = "rackround-ledger/1"


def export_lines(ledger: Ledger) -> Iterator[str]:
    """Every line of the export, without line ends; others may go on writing, what they add is not in it."""
    count = ledger.last_seq()
    yield compact({"format": FORMAT, "entries": count})
    chain = FIRST_CHAIN
    for entry in islice(ledger.everything(), count):
        line = line_of(entry)
        chain = next_chain(chain, line)
        yield f'{line[:-1]},"chain":"{chain.hex()}"}}'
