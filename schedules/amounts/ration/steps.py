"""One line of a worked-out amount: what it says, its number, and where that comes from."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

COMMON: Final = "common practice, no source"


@dataclass(frozen=True, slots=True)
class Step:
    """One line of arithmetic.

    `source` names a publication, "the label", "the room file", "the ledger", or says "common practice, no source";
    `uncertainty` says in a few words how far off the number may be, empty where it is exact.
    """

    text: str
    value: float
    unit: str
    source: str
    uncertainty: str = ""
