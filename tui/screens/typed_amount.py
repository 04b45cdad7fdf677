"""A number that a keeper typed: with a point or a comma."""

from __future__ import annotations

import re
from typing import Final

MOST: Final = 1000
"""More of a feed's measures, or of millilitres, is a slip of the hand."""
_NUMBER: Final = re.compile(r"[0-9]*[.,]?[0-9]+|[0-9]+[.,]")


def amount_of(typed: str) -> float | None:
    """The number in a text, above 0 and at most `MOST`; None where it is none."""
    text = typed.strip()
    if not _NUMBER.fullmatch(text):
        return None
    amount = float(text.replace(",", "."))
    return amount if 0 < amount <= MOST else None


def amount_fault(typed: str) -> str:
    """What is wrong with a typed amount, in words; empty where nothing is."""
    if amount_of(typed) is not None:
        return ""
    return f'"{typed.strip()}" is no amount: type a number above 0 and up to {MOST}, such as 1.5 or 1,5'
