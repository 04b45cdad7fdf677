"""The ledger in one SQLite file.

In: a path, acts, questions. Out: entries, or a `LedgerFault`. Read `store.py` first.
"""

from schedules.ledger.stores.sqlite.opening import accept_lost_end
from schedules.ledger.stores.sqlite.store import SqliteLedger, open_ledger

__all__ = ["SqliteLedger", "accept_lost_end", "open_ledger"]
