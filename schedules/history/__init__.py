"""What holds now: the ledger's entries folded into values that decisions can be made from. Read `history.py` first."""

from schedules.history.history import History, history_of, refresh

__all__ = ["History", "history_of", "refresh"]
