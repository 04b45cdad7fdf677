"""The ledger: the only state there is, to which entries are only ever added.

In: acts of keepers. Out: entries, or a `LedgerFault`. Read `ledger.py` first: what can be asked of any ledger. Then
`declaration.py` and one file of `entries/`: what can be written. `stores/` keep it, `copies/` look after the file.
"""

from schedules.ledger.entries import (
    Acknowledged,
    AlreadyMarked,
    Came,
    Entry,
    LedgerFault,
    Leftovers,
    LostEnd,
    Noted,
    Observed,
    PostedServing,
    Posting,
    Reading,
    Reason,
    Response,
    SaltAdded,
    Saw,
    Served,
    Sighting,
    Skipped,
    Undone,
    WaterAdded,
    WaterChanged,
    What,
    feed_of,
    tank_of,
)
from schedules.ledger.ledger import Ledger

__all__ = [
    "Acknowledged",
    "AlreadyMarked",
    "Came",
    "Entry",
    "Ledger",
    "LedgerFault",
    "Leftovers",
    "LostEnd",
    "Noted",
    "Observed",
    "PostedServing",
    "Posting",
    "Reading",
    "Reason",
    "Response",
    "SaltAdded",
    "Saw",
    "Served",
    "Sighting",
    "Skipped",
    "Undone",
    "WaterAdded",
    "WaterChanged",
    "What",
    "feed_of",
    "tank_of",
]
