"""What holds now: the ledger's entries put together into values that decisions can be made from.

In: a ledger, a day. Out: a `History`, pure values without a store. Read `history.py` first; `projection.py` says what
is looked up and from which kinds of entry, `life/` who lives where.
"""

from schedules.history.history import LOOK_BACK_DAYS, History
from schedules.history.reading import history_of, looking_ahead, refresh

__all__ = ["LOOK_BACK_DAYS", "History", "history_of", "looking_ahead", "refresh"]
