"""Which flags keepers have seen and set aside, and which of those are back because there is more of it now."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from typing import Final

from schedules.history import History
from schedules.ledger.entries import Acknowledged, Entry
from schedules.review.flags.types import RANK, Flag

TOLERANCE: Final = 0.01
"""The part by which an extent may be above the one that was seen: more than numbers scatter, less than one serving."""


def acknowledgement_of(flag: Flag) -> Acknowledged:
    """What is written down, about the flag's day, when a keeper sets a flag aside."""
    return Acknowledged(flag.tank, flag.feed, flag.kind, flag.severity, flag.extent)


def covers(seen: Acknowledged, day: date, flag: Flag) -> bool:
    """Whether what was acknowledged about a day sets a flag aside: the same flag, no worse and no more of it."""
    return (
        (seen.flag, seen.tank, seen.feed, day) == flag.key
        and RANK[seen.severity] <= RANK[flag.severity]
        and flag.extent <= seen.extent * (1 + TOLERANCE)
    )


def acknowledgements(flag: Flag, history: History) -> tuple[Entry, ...]:
    """The standing entries that set a flag aside, oldest first; empty where it stands among the others.

    The history must hold the flag's day.
    """
    return tuple(
        entry
        for entry in history.about(flag.tank, flag.day)
        if isinstance(entry.what, Acknowledged) and covers(entry.what, entry.day, flag)
    )


def set_apart(found: Iterable[Flag], history: History) -> tuple[tuple[Flag, ...], tuple[Flag, ...]]:
    """The flags that stand, and those set aside, each in the order given."""
    listed = [(flag, bool(acknowledgements(flag, history))) for flag in found]
    return tuple(flag for flag, aside in listed if not aside), tuple(flag for flag, aside in listed if aside)
