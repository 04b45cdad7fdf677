"""A hand at the keys: presses, waits until the screen says something, looks at what was written."""

from __future__ import annotations

import asyncio
import time
from collections.abc import AsyncIterator, Callable
from contextlib import asynccontextmanager
from itertools import count
from pathlib import Path
from typing import Any, Final

from textual.pilot import Pilot

from schedules.ledger import What
from schedules.session.session import Session
from tests.tui.picture import picture
from tui.acts import BY_ID, Place
from tui.app import RackroundApp

PATIENCE: Final = 20.0
"""Seconds after which what has not come is taken as never coming."""
FROM_ROUND: Final[dict[Place, str]] = {
    "tank": "open_tank",
    "changes": "changed",
    "counting": "count_rack",
    "reading": "read_rack",
    "tank_water": "tank_water",
}
"""Screens about the tank of the next open stop, and the acts of the round that lead there."""
POLL: Final = 0.02
"""Seconds between two looks at the screen."""


async def wait(holds: Callable[[], bool], wish: str, text: Callable[[], str]) -> None:
    """Wait until something holds; where it never does, fail with what the screen says."""
    end = time.monotonic() + PATIENCE
    while not holds():
        assert time.monotonic() < end, f"never came: {wish}; the screen says\n{text()}"
        await asyncio.sleep(POLL)


class Hand:
    """The keeper's hand on one open dashboard."""

    def __init__(self, app: RackroundApp, pilot: Pilot[None]) -> None:
        self.app = app
        self.pilot = pilot
        self._written = app.session.ledger.last_seq()

    @property
    def text(self) -> str:
        """What the screen says now."""
        return picture(self.app)

    async def press(self, *keys: str) -> None:
        """Press keys as fast as a keyboard sends them, then let the dashboard come to rest."""
        for key in keys:
            self.app.simulate_key(key)
        await self.pilot.pause()

    async def until(self, holds: Callable[[], bool], wish: str) -> None:
        """Wait until something holds; where it never does, fail with the screen."""
        await wait(holds, wish, lambda: self.text)

    async def sees(self, *texts: str) -> None:
        """Wait until the screen says all of this; where a text is broken over lines, its words do."""
        await self.until(lambda: all(each in self.text for each in texts), f"{texts}")

    async def is_at(self, place: Place) -> None:
        """Wait until this screen is the one on top, with nothing over it."""
        await self.until(lambda: self.app.screen is self.app.page and self.app.page.place == place, place)
        await self.pilot.pause()

    async def open(self, place: Place) -> None:
        """Go to a screen from any other; the tank is the one of the next open stop."""
        if place in FROM_ROUND:
            await self.open("round")
        await self.press(BY_ID[FROM_ROUND.get(place, f"show_{place}")].key)
        await self.is_at(place)

    @property
    def written(self) -> list[What]:
        """What was written into the ledger since the dashboard opened, by this hand or any other."""
        return [entry.what for entry in self.app.session.ledger.everything() if entry.seq > self._written]


@asynccontextmanager
async def at_work(
    session: Session, size: tuple[int, int] = (80, 24), room_file: Path | None = None, **options: Any
) -> AsyncIterator[Hand]:
    """A dashboard that is open and has settled: round on the screen, flags worked out."""
    # Keys come fast here; a clock that goes on by a second at every look takes none of them for one held down.
    options.setdefault("tick", count().__next__)
    app = RackroundApp(session, room_file=room_file, **options)
    async with app.run_test(size=size) as pilot:
        hand = Hand(app, pilot)
        await hand.until(lambda: app.background.done, "the flags")
        await pilot.pause()
        yield hand
