"""Where a ledger is kept: `memory` a list, `sqlite` a file, `postgres` a server. Each is a `Ledger` (`ledger.py`).

In: acts to append, questions. Out: entries, or a `LedgerFault`. Read `memory.py` first: it says in plain Python what
every store does.
"""
