"""A monkey at the dashboard: `python -m tests.tui.monkey --steps 5000` presses, taps, pastes and resizes at random.

The rooms have names that are hard to show, and room file and ledger change underneath. Every step is drawn from a seed,
so that a run can be repeated: what went wrong names its seed and its last steps.
"""

from __future__ import annotations

import asyncio
import sys
import tempfile
from argparse import ArgumentParser
from collections import deque
from collections.abc import Awaitable, Callable, Sequence
from datetime import timedelta
from pathlib import Path
from random import Random
from typing import Final

from textual import events
from textual.pilot import Pilot

from schedules.session.session import Session
from tests.tui.hand import Hand, at_work
from tests.tui.picture import picture
from tests.tui.rooms import TANKS, Clock, make_session, quoted, room_text, second_session
from tui.acts import ACTS, key_text

WIDTHS: Final = (60, 200)
HEIGHTS: Final = (20, 60)
ONE_RUN: Final = 250
"""Steps at one dashboard; then the next one is opened, in another room."""
PATIENCE: Final = 30.0
"""Seconds after which a step is taken as never ending."""
SHOWN: Final = 12
"""Steps that a failure names."""
HOSTILE: Final = (
    "[/]",
    "[bold red]Tank[/bold]",
    "[@click=app.quit]leave[/]",
    "\u200f\u05d7\u05d3\u05e8",
    "水槽一号 ｗｉｄｅ",
    "🦐🦐👩🏽\u200d🔬",
    "no\u200bwidth\u00adat all\u2060",
    "e\u0301\u0301\u0301",
    "x" * 120,
    "[" * 60,
    "%s {} $primary \\[",
)
SAID: Final = (*HOSTILE, "a\u202eb\u2066c", "tab\there", "\x1b[2Jgone", "\x85\x9b31m", "two\nlines")
"""Notes may hold what a room file may not."""
PASTES: Final = ("1,5", "leftovers\nof two lines", "[/bold]", "\x1b[2J\x07", "水" * 80, "q q q", "9" * 400, "")
KEYS: Final = (
    *sorted({key_text(act.key) if act.key != "escape" else "escape" for act in ACTS} - {"q"}),
    *"023456789",
    "enter",
    "escape",
    "up",
    "down",
    "pageup",
    "pagedown",
    "home",
    "end",
    "tab",
    "shift+tab",
    "backspace",
    "delete",
    "f1",
    "f3",
    "ctrl+p",
    "ctrl+c",
    "full_stop",
    "comma",
)


class Monkey:
    """Random steps at one dashboard. `log` holds the last of them in words."""

    def __init__(self, hand: Hand, folder: Path, random: Random) -> None:
        self.hand = hand
        self.log: deque[str] = deque(maxlen=SHOWN)
        self._folder = folder
        self._random = random
        self._other = second_session(hand.app.session, folder)
        self._steps: Sequence[tuple[int, Callable[[], Awaitable[None]]]] = (
            (60, self._press),
            (12, self._tap),
            (4, self._paste),
            (4, self._resize),
            (4, self._change_room_file),
            (6, self._write_by_another),
            (2, self._let_time_pass),
            (3, self._look),
        )

    @property
    def pilot(self) -> Pilot[None]:
        """What works the dashboard."""
        return self.hand.pilot

    async def step(self) -> None:
        """One step; the screen must be whole after it."""
        weights = [weight for weight, _ in self._steps]
        (_, step) = self._random.choices(self._steps, weights)[0]
        async with asyncio.timeout(PATIENCE):
            await step()
            await self.pilot.pause()
        app = self.hand.app
        if app._exception is not None:
            raise app._exception

    async def _press(self) -> None:
        keys = self._random.choices(KEYS, k=self._random.choice((1, 1, 1, 2, 5)))
        self.log.append(f"press {' '.join(keys)}")
        await self.hand.press(*(key.lower() if len(key) > 1 else key for key in keys))

    async def _tap(self) -> None:
        size = self.hand.app.size
        x, y = self._random.randrange(size.width), self._random.randrange(size.height)
        self.log.append(f"tap {x} {y}")
        await self.pilot.click(offset=(x, y))

    async def _paste(self) -> None:
        text = self._random.choice(PASTES)
        self.log.append(f"paste {text!r}")
        self.hand.app.post_message(events.Paste(text))

    async def _resize(self) -> None:
        width, height = self._random.randint(*WIDTHS), self._random.randint(*HEIGHTS)
        self.log.append(f"resize to {width}x{height}")
        await self.pilot.resize_terminal(width, height)

    async def _change_room_file(self) -> None:
        text = hostile_text(self._random) if self._random.random() < 0.8 else "name = ["
        self.log.append("change the room file" + ("" if len(text) > 10 else " into a faulty one"))
        (self._folder / "room.toml").write_text(text, encoding="utf-8")

    async def _write_by_another(self) -> None:
        sheet = self._other.sheet
        stop = self._random.choice(sheet.stops) if sheet.stops else None
        self.log.append("an act of another program")
        if stop is None or self._random.random() < 0.3:
            self._other.note("a1", self._random.choice(SAID))
        elif self._random.random() < 0.3:
            self._other.undo()
        else:
            self._other.finish(stop)

    async def _let_time_pass(self) -> None:
        ahead = self._random.choice((timedelta(minutes=20), timedelta(hours=9), timedelta(days=1)))
        self.log.append(f"let {ahead} pass")
        clock = self.hand.app.session.clock
        assert isinstance(clock, Clock)
        clock.now += ahead

    async def _look(self) -> None:
        self.log.append("look around")
        self.hand.app.look()


def hostile_text(random: Random) -> str:
    """A room file with hostile names, and now and then with a tank less."""
    names = {tank: random.choice(HOSTILE) for tank, _ in TANKS}
    text = room_text(names)
    for name in ("Nettle dust", "Insect wafers", "Cellar by the stairs", "Wall rack"):
        text = text.replace(f'"{name}"', quoted(random.choice(HOSTILE)))
    return text


def hostile_session(folder: Path, random: Random) -> Session:
    """A session on a room that a sound file with hostile names describes."""
    text = hostile_text(random)
    (folder / "room.toml").write_text(text, encoding="utf-8")
    return make_session(folder, text)


async def run(seed: int, steps: int) -> None:
    """So many random steps at one dashboard; AssertionError or what was raised, with the last steps as a note."""
    random = Random(seed)
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        session = hostile_session(folder, random)
        size = (random.randint(*WIDTHS), random.randint(*HEIGHTS))
        monkey: Monkey | None = None
        try:
            async with at_work(session, size, folder / "room.toml") as hand:
                monkey = Monkey(hand, folder, random)
                for _ in range(steps):
                    await monkey.step()
                    if not hand.app.is_running:
                        return  # it has found the way out
                assert len(picture(hand.app).splitlines()) == hand.app.size.height
        except Exception as error:
            said = "; ".join(monkey.log) if monkey else "while it opened"
            error.add_note(f"seed {seed}, steps {steps}, the last ones: {said}")
            raise


def main(words: Sequence[str]) -> int:
    """Run so many steps in rooms of one seed after the other, and say how many went well."""
    parser = ArgumentParser(description="Random keys, taps, pastes and resizes.")
    parser.add_argument("--steps", type=int, default=5000)
    parser.add_argument("--seed", type=int, default=1)
    asked = parser.parse_args(words)
    done, seed = 0, asked.seed
    while done < asked.steps:
        asyncio.run(run(seed, min(ONE_RUN, asked.steps - done)))
        done += min(ONE_RUN, asked.steps - done)
        sys.stdout.write(f"seed {seed}: {done} steps\n")
        sys.stdout.flush()
        seed += 1
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
