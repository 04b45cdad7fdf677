"""The ledger in a PostgreSQL database, which several machines share.

In: the address of a server, acts, questions. Out: entries, or a `LedgerFault`. Read `store.py` first, then `line.py`.
Importing this needs psycopg (the extra `shared`); `schedules/ledger/stores/opening.py` does so only where it is asked.
"""

from schedules.ledger.stores.postgres.store import PostgresLedger, open_server

__all__ = ["PostgresLedger", "open_server"]
