"""Where a ledger is kept: `memory` in a list, `sqlite` in a file. Both are a `Ledger` (`schedules/ledger/ledger.py`).

In: acts to append, questions. Out: entries, or a `LedgerFault`. Read `memory.py` first: it says in plain Python what
every store does.
"""
