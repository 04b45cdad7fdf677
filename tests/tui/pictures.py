"""Pictures of every screen as plain text: `python -m tests.tui.pictures` makes the stored ones again.

Look at the difference before it is kept: a changed line is a changed screen.
"""

from __future__ import annotations

import asyncio
import tempfile
from collections.abc import AsyncIterator
from pathlib import Path
from typing import Final

from tests.tui.hand import Hand, at_work
from tests.tui.rooms import CHORES, back_from_leave, make_session, room_text
from tests.tui.water import water_session
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
    "tank_water",
    "help",
)
DIALOGS: Final = {"keys": ("f1", "Keys"), "skip": ("s", "why is it left out?"), "note": ("n", "a1: note")}
"""Over the round: the key that opens it, and what is then on the screen."""

VIEWS: Final[dict[str, tuple[Place, tuple[str, ...], str]]] = {
    "survival-plot": ("survival", ("g",), "behind it"),
    "water": ("water", (), "never read"),
}
"""Other views of a screen: the screen, the keys that show it, and what is then on the screen."""

AWAY_SEEN: Final = ("away-open", "away-ticked")
"""Pictures of a helper's sheet that came back: as it is opened, and with each kind of tick."""
CHORES_SEEN: Final = ("chores-room", "chores-stop", "chores-missed")
"""Pictures of a room with chores."""
READ: Final[dict[str, tuple[Place, tuple[str, ...], str]]] = {
    "water-read": ("water", (), "b2"),
    "tank_water-read": ("water", ("enter",), "What to add"),
    "tank_water-plot": ("water", ("enter", "o"), "others of rack"),
    "reading-read": ("reading", ("2", "4", "enter", "1", "8", "2"), "182_"),
}
"""Views of the same room after weeks of readings, in the same way."""


def stored(name: str, size: tuple[int, int]) -> Path:
    """Where the picture of a screen of a size is stored."""
    return STORED / f"{name}-{size[0]}x{size[1]}.txt"


async def pictures(folder: Path, size: tuple[int, int]) -> dict[str, str]:
    """Every screen and dialog of this size, by name."""
    read = folder / "read"
    read.mkdir()
    async with at_work(make_session(folder), size) as hand:
        found = {name: text async for name, text in _seen(hand)}
    async with at_work(water_session(read), size) as hand:
        found |= {name: text async for name, text in _views(hand, READ)}
    (folder / "away").mkdir()
    async with at_work(back_from_leave(folder / "away")[0], size) as hand:
        found |= {name: text async for name, text in _away(hand)}
    (folder / "chores").mkdir()
    session = make_session(folder / "chores", room_text(also=CHORES))
    session.give("a1", "flake", anyway=True)
    async with at_work(session, size) as hand:
        return found | {name: text async for name, text in _chores(hand)}


async def _away(hand: Hand) -> AsyncIterator[tuple[str, str]]:
    """Every visit not said; then one given, one left out, one cloudy."""
    await hand.open("away")
    await hand.sees("not said")
    yield "away-open", await settled(hand)
    await hand.press("space", "down", "space", "space", "down", "space", "space", "space")
    await hand.sees("1 given, 1 left out, 1 cloudy")
    yield "away-ticked", await settled(hand)


async def _chores(hand: Hand) -> AsyncIterator[tuple[str, str]]:
    """A stop of chores alone, one of three servings and two chores, and chores among what was missed."""
    yield "chores-room", await settled(hand)
    await hand.press("down")
    yield "chores-stop", await settled(hand)
    await hand.open("missed")
    await hand.press("end")
    yield "chores-missed", await settled(hand)


async def _seen(hand: Hand) -> AsyncIterator[tuple[str, str]]:
    for place in SCREENS:
        await hand.open(place)
        yield place, await settled(hand)
    async for view in _views(hand, VIEWS):
        yield view
    await hand.open("round")
    for name, (key, says) in DIALOGS.items():
        await hand.press(key)
        await hand.sees(says)
        yield name, await settled(hand)
        await hand.press("escape")
        await hand.is_at("round")


async def _views(hand: Hand, views: dict[str, tuple[Place, tuple[str, ...], str]]) -> AsyncIterator[tuple[str, str]]:
    for name, (place, keys, says) in views.items():
        await hand.open("round")
        await hand.open(place)
        for key in keys:
            await hand.press(key)
        await hand.sees(says)
        yield name, await settled(hand)


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
