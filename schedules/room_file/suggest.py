"""What the keeper may have meant by a word that is not known."""

from __future__ import annotations

from collections.abc import Iterable
from difflib import get_close_matches


def meant(word: str, known: Iterable[str]) -> str:
    """`; did you mean "…"?` with the known word that is most like a given one, or nothing if none is."""
    by_folded = {name.casefold(): name for name in known}
    found = get_close_matches(word[:100].casefold(), by_folded, n=1, cutoff=0.6)
    return f'; did you mean "{by_folded[found[0]]}"?' if found else ""


def listed(words: Iterable[str], most: int = 12) -> str:
    """Words in quotes, separated by commas; a long list is cut and its length given."""
    quoted = [f'"{word}"' for word in words]
    if len(quoted) > most:
        return f"{', '.join(quoted[:most])} … ({len(quoted)} in all)"
    return ", ".join(quoted)
