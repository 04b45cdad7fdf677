"""The ledger: the only state there is, and the only thing that is ever written.

`entries` says what can stand in it, `ledger` what can be asked of it, `history` folds entries into what holds now,
`sqlite_ledger` keeps it in a file.
"""

from schedules.ledger.entries import (
    Acknowledged,
    AlreadyMarked,
    Entry,
    LedgerFault,
    Leftovers,
    Noted,
    Observed,
    PostedServing,
    Posting,
    Served,
    Skipped,
    Undone,
    What,
)
from schedules.ledger.ledger import Ledger

__all__ = [
    "Acknowledged",
    "AlreadyMarked",
    "Entry",
    "Ledger",
    "LedgerFault",
    "Leftovers",
    "Noted",
    "Observed",
    "PostedServing",
    "Posting",
    "Served",
    "Skipped",
    "Undone",
    "What",
]
