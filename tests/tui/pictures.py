"""Pictures of every screen as plain text: `python -m tests.tui.pictures` makes the stored ones anew.

Look at the difference before it is kept: a changed line is a changed screen.
"""

from __future__ import annotations

import asyncio
import tempfile
from collections.abc import AsyncIterator
from pathlib import Path
from typing import Final

from tests.tui.hand import Hand, at_work
from tests.tui.rooms import make_session
from tui.acts import Place

STORED: Final = Path(__file__).with_name("pictures")
SIZES: Final = ((60, 20), (80, 24), (120, 40))
SCREENS: Final[tuple[Place, ...]] = (
    "round",
    "prepare",
    "lookback",
    "missed",
    "flags",
    "plan",
    "room",
    "tank",
    "expected",
    "changes",
    "survival",
    "lines",
    "counting",
    "away",
    "stock",
    "reading",
    "help",
)
DIALOGS: Final = {"keys": ("f1", "Keys"), "skip": ("s", "why is it left out?"), "note": ("n", "a1: note")}
"""Over the round: the key that opens it, and what is then on the screen."""

VIEWS: Final[dict[str, tuple[Place, tuple[str, ...], str]]] = {"survival-plot": ("survival", ("g",), "behind it")}
"""Other views of a screen: the screen, the keys that show it, and what is then on the screen."""


def stored(name: str, size: tuple[int, int]) -> Path:
    """Where the picture of a screen of a size is stored."""
    return STORED / f"{name}-{size[0]}x{size[1]}.txt"


async def pictures(folder: Path, size: tuple[int, int]) -> dict[str, str]:
    """Every screen and dialog of this size, by name."""
    async with at_work(make_session(folder), size) as hand:
        return {name: text async for name, text in _seen(hand)}


async def _seen(hand: Hand) -> AsyncIterator[tuple[str, str]]:
    for place in SCREENS:
        await hand.open(place)
        yield place, await settled(hand)
    for name, (place, keys, says) in VIEWS.items():
        await hand.open("round")
        await hand.open(place)
        await hand.press(*keys)
        await hand.sees(says)
        yield name, await settled(hand)
    await hand.open("round")
    for name, (key, says) in DIALOGS.items():
        await hand.press(key)
        await hand.sees(says)
        yield name, await settled(hand)
        await hand.press("escape")
        await hand.is_at("round")


async def settled(hand: Hand) -> str:
    """The screen once it says twice in a row the same."""
    before, now = "", hand.text
    while before != now:
        await hand.pilot.pause()
        before, now = now, hand.text
    return now


def remake() -> None:
    """Store all pictures as they are now, and none that are no longer made."""
    STORED.mkdir(exist_ok=True)
    for old in STORED.glob("*.txt"):
        old.unlink()
    for size in SIZES:
        with tempfile.TemporaryDirectory() as folder:
            for name, text in asyncio.run(pictures(Path(folder), size)).items():
                stored(name, size).write_text(text, encoding="utf-8")


if __name__ == "__main__":
    remake()
