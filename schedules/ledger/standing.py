"""Which entries still hold."""

from __future__ import annotations

from collections.abc import Iterable

from schedules.ledger.entries import Entry, Undone


def standing(entries: Iterable[Entry]) -> tuple[Entry, ...]:
    """The entries that still hold: neither undone nor themselves undos, in the order given."""
    listed = tuple(entries)
    undone = {entry.what.act for entry in listed if isinstance(entry.what, Undone)}
    return tuple(entry for entry in listed if not isinstance(entry.what, Undone) and entry.act not in undone)
