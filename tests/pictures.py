"""The pictures of the README, made from the demo room: `python -m tests.pictures`.

The same room, past and moment give the same pictures. They hold letters and colours only: no fonts from elsewhere.
"""

from __future__ import annotations

import asyncio
import re
import tempfile
from datetime import datetime
from html import escape, unescape
from pathlib import Path
from typing import Final

from rich.cells import cell_len

import tui
from demo_racks import room_path
from demo_racks.fresh import fresh_text
from demo_racks.past import write_past
from schedules.ledger.stores.sqlite import open_ledger
from schedules.room import Room
from schedules.room_file import load_room_text
from schedules.session.session import Session
from tests.tui.hand import Hand, at_work
from tests.tui.picture import CELL
from tests.tui.pictures import settled
from tui.acts import Place

FOLDER: Final = Path(tui.__file__).with_name("pictures")
MOMENT: Final = datetime(2026, 11, 25, 7, 10)  # noqa: DTZ001 (on the wall of the room, whose zone the file says)
SIZE: Final = (100, 30)
DONE: Final = 9
"""Stops done before the picture of the round is taken."""
SCREENS: Final[dict[Place, str]] = {
    "prepare": "before",
    "round": "round",
    "missed": "missed",
    "flags": "flags",
    "plan": "plan",
    "room": "room",
    "tank": "tank",
}
"""Screens and the names of their pictures, in the order in which they are taken."""
BLANK: Final = "\xa0"
_FONTS: Final = re.compile(r"@font-face\s*\{.*?\}\s*", re.DOTALL)
_COMMENT: Final = re.compile(r"<!--.*?-->\s*", re.DOTALL)
_RUN: Final = re.compile(
    r'(<text class="[^"]*-r\d+" )x="([\d.]+)"( y="[\d.]+" )textLength="[\d.]+"([^>]*>)(.*?)</text>'
)
_FAMILY: Final = re.compile(r"font-family:[^;]*;")


def plain(svg: str) -> str:
    """A picture that asks for nothing from elsewhere: the fonts to fetch are left out, the reader's own are used.

    Blanks at the ends of a run of letters become a shorter run further right, since not all viewers keep them.
    """
    bare = _FAMILY.sub("font-family: monospace;", _FONTS.sub("", _COMMENT.sub("", svg)))
    return _RUN.sub(_trimmed, bare) + "\n"


def _trimmed(run: re.Match[str]) -> str:
    head, x, between, tail, escaped = run.groups()
    text = unescape(escaped)
    letters = text.strip(BLANK)
    if not letters:
        return ""
    at = float(x) + CELL * (len(text) - len(text.lstrip(BLANK)))
    shown = escape(letters, quote=False).replace(BLANK, "&#160;")
    return f'{head}x="{at:g}"{between}textLength="{CELL * cell_len(letters):g}"{tail}{shown}</text>'


def demo_session(folder: Path) -> Session:
    """The invented room and its invented past, in its first keeper's session."""
    room: Room = load_room_text(fresh_text(room_path("breeding_room").read_text("utf-8"), MOMENT.date()), "demo.toml")
    path = folder / "demo.ledger.db"
    write_past(room, path, MOMENT.date())
    now = MOMENT.replace(tzinfo=room.zone)
    return Session(room, open_ledger(path), lambda: now, room.keepers[0].name)


async def take(folder: Path) -> dict[str, str]:
    """All pictures by name."""
    taken = {}
    async with at_work(demo_session(folder), SIZE) as hand:
        for place, name in SCREENS.items():
            await hand.open(place)
            if place == "round":
                await _walk(hand)
            await settled(hand)
            taken[name] = plain(hand.app.export_screenshot(title="rackround demo"))
    return taken


async def _walk(hand: Hand) -> None:
    for done in range(1, DONE + 1):
        await hand.press("space")
        await hand.sees(f"{done} of ")


def main() -> None:
    """Take the pictures and put them beside the program."""
    FOLDER.mkdir(exist_ok=True)
    with tempfile.TemporaryDirectory() as folder:
        for name, svg in asyncio.run(take(Path(folder))).items():
            (FOLDER / f"{name}.svg").write_text(svg, encoding="utf-8")


if __name__ == "__main__":
    main()
