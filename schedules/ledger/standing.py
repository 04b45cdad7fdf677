"""Which entries still hold."""

from __future__ import annotations

from collections.abc import Iterable

from schedules.ledger.declaration import kind_of
from schedules.ledger.entry import Entry


def undone_act(entry: Entry) -> int | None:
    """The act that an entry takes back, None for an entry that takes nothing back."""
    undoes = kind_of(entry.what).undoes
    return undoes(entry.what) if undoes else None


def standing(entries: Iterable[Entry]) -> tuple[Entry, ...]:
    """The entries that still hold: neither undone nor themselves undos, in the order given."""
    listed = [(entry, undone_act(entry)) for entry in entries]
    undone = {act for _, act in listed if act is not None}
    return tuple(entry for entry, undoes in listed if undoes is None and entry.act not in undone)
