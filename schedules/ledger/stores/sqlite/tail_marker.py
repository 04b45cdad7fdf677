"""A line beside the ledger that says what was written last, so that a ledger which lost its end does not pass as whole.

A cut or damaged log looks to SQLite like one whose end was never saved. The witness is written after every act that
is on the disk, so it never says too much; it may say too little, and it may be missing, which means nothing.
"""

from __future__ import annotations

import os
import shutil
import sqlite3
from contextlib import suppress
from pathlib import Path
from typing import Final, NamedTuple

from schedules.ledger.lines import CHAIN_BYTES
from schedules.ledger.stores.sqlite.faults import fault

_LOG, _WITNESS = "-wal", "-last"
DAMAGED: Final = ".damaged"
"""The end of the names of a log and a witness that are kept for a repair."""
_SEQ_DIGITS: Final = 15


class Witness(NamedTuple):
    """The number and the chain of the entry written last."""

    seq: int
    chain: bytes


def beside(path: Path, tail: str) -> Path:
    """The file that stands beside a ledger under its name and a tail."""
    return path.with_name(path.name + tail)


def bear_witness(path: Path, seq: int, chain: bytes) -> None:
    """Write down what was written last; where that fails nothing is lost."""
    with suppress(OSError):
        handle = os.open(beside(path, _WITNESS), os.O_CREAT | os.O_WRONLY, 0o600)
        try:
            os.write(handle, f"{seq:0{_SEQ_DIGITS}} {chain.hex()}\n".encode())
        finally:
            os.close(handle)


def witness_of(path: Path, end: str = "") -> Witness | None:
    """What was written last, to be read before the ledger is opened; None where there is no (whole) witness.

    With the `end` `DAMAGED`, what the one told that was kept for a repair.
    """
    try:
        seq, chain = beside(path, _WITNESS + end).read_text("ascii").split()
        found = Witness(int(seq), bytes.fromhex(chain))
    except (OSError, ValueError):
        return None
    return found if len(found.chain) == CHAIN_BYTES and len(seq) == _SEQ_DIGITS else None


def refuse_lost_end(path: Path, connection: sqlite3.Connection, witness: Witness | None) -> None:
    """A fault, told once, where the entry written last is missing or another; its log is kept for a repair."""
    if witness is None:
        return
    found = connection.execute("SELECT chain FROM entries WHERE seq = ?", (witness.seq,)).fetchone()
    if found is not None and found[0] == witness.chain:
        return
    last, chain = connection.execute("SELECT seq, chain FROM entries ORDER BY seq DESC LIMIT 1").fetchone() or (0, b"")
    for tail in (_LOG, _WITNESS):
        with suppress(OSError):
            shutil.copy(beside(path, tail), beside(path, tail + DAMAGED))
    bear_witness(path, last, chain or bytes(CHAIN_BYTES))
    lost = f"{witness.seq - last} entries are missing at its end" if last < witness.seq else "it is not the same ledger"
    raise fault(
        path,
        f"this is not what was written last: {lost}. If you put an older copy here yourself, open it again to go on "
        "with it. If not, keep everything as it is; `rackround ledger repair` saves what can be read.",
    )
