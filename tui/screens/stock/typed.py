"""What is typed about the shelf: grams, and after them a lot and a use-by date in any order."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from schedules.ledger.entries.stock.delivered import MOST_GRAMS


@dataclass(frozen=True, slots=True)
class Arrival:
    """A delivery as it was typed."""

    grams: float
    lot: str | None
    use_by: date | None


def read_grams(text: str) -> float | str:
    """Grams, with a point or a comma; else what is wrong, in words."""
    try:
        grams = float(text.strip().removesuffix("g").strip().replace(",", "."))
    except ValueError:
        return "a number of grams, as in 12.5"
    return grams if 0 <= grams <= MOST_GRAMS else f"grams from 0 to {MOST_GRAMS}"


def read_arrival(text: str) -> Arrival | str:
    """Grams, a lot, a use-by date; else what is wrong, in words."""
    words = text.split()
    grams = read_grams(words[0]) if words else "a number of grams first, as in 50"
    if isinstance(grams, str):
        return grams
    if grams == 0:
        return "more than 0 grams"
    dates: list[date] = []
    lot: list[str] = []
    for word in words[1:]:
        day = _day(word)
        if day is None:
            lot.append(word)
        else:
            dates.append(day)
    if len(dates) > 1:
        return "one use-by date at most"
    return Arrival(grams, " ".join(lot) or None, dates[0] if dates else None)


def _day(word: str) -> date | None:
    try:
        return date.fromisoformat(word) if len(word) == 10 else None
    except ValueError:
        return None
