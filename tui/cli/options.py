"""The options that every command has, and the nearest of some names to one that is not known."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from schedules.room.place import Place


@dataclass(frozen=True, slots=True)
class Options:
    """The options every command has: the clock's moment (None: the real one), the ledger's place, who, own keys."""

    room_file: Path = Path()
    now: datetime | None = None
    ledger: Place | None = None
    by: str | None = None
    keys: Path | None = None


def nearest(name: str, names: Iterable[str]) -> str | None:
    """The name that is most like another, None where none is."""
    # Imported here and not above: only a fault needs it.
    from difflib import get_close_matches

    return next(iter(get_close_matches(name, list(names), n=1, cutoff=0.5)), None)
