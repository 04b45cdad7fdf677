"""The demo as a keeper opens it, and what the program's own printed sheet says about it."""

from __future__ import annotations

import json
import re
import subprocess
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path
from typing import Any, Final

from schedules.room_file import load_room
from tests.pty.terminal import Terminal, environment, installed

NOW: Final = "2026-11-25T07:10"


@dataclass(frozen=True)
class Demo:
    """A demo that is kept in a folder."""

    folder: Path

    def open(self, width: int = 80, height: int = 24, now: str = NOW) -> Terminal:
        """Open the dashboard on it."""
        return Terminal([installed(), "demo", "--keep", str(self.folder), "--now", now], self.home, width, height)

    @property
    def home(self) -> Path:
        """Where the program keeps what it keeps beside the demo."""
        return self.folder.with_name("home")

    @property
    def room_file(self) -> Path:
        """The room file that the program put there."""
        return self.folder / "demo.toml"

    def printed(self, now: str = NOW) -> list[dict[str, Any]]:
        """The stops of today's round, as another run of the program prints them."""
        words = [installed(), "round", str(self.room_file), "--json", "--now", now]
        run = subprocess.run(
            words, capture_output=True, check=True, text=True, encoding="utf-8", env=environment(self.home)
        )
        stops: list[dict[str, Any]] = json.loads(run.stdout)["stops"]
        return stops

    def states(self) -> dict[str, set[str]]:
        """What each tank's servings and chores came to: given (or done), skipped, due."""
        return {
            stop["tank"]: {each["state"].replace("done", "given") for each in (*stop["servings"], *stop["chores"])}
            for stop in self.printed()
        }

    @cached_property
    def tanks(self) -> list[str]:
        """The tanks with a stop today, in walking order."""
        return [stop["tank"] for stop in self.printed()]

    @cached_property
    def names(self) -> dict[str, str]:
        """What each tank is called; on a screen of 80 cells only the current stop shows it."""
        return {tank.id: tank.name for tank in load_room(self.room_file).tanks.values()}


class Keeper:
    """Somebody who walks the round at a terminal, and looks at the screen after each act."""

    def __init__(self, demo: Demo, terminal: Terminal) -> None:
        self.demo = demo
        self.terminal = terminal

    def sees_done(self, done: int) -> None:
        """Wait until so many stops are done."""
        self.terminal.find(rf"\b{done} of \d+ stops done")

    def is_at(self, tank: str) -> None:
        """Wait until a tank's stop is the current one."""
        self.terminal.shows(self.demo.names[tank])

    def finish(self, tank: str) -> None:
        """Mark all that is due at a stop."""
        self.is_at(tank)
        done = stops_done(self.terminal)
        self.terminal.press("space")
        self.terminal.find(rf"\b{done + 1} of \d+ stops done|round is done")

    def skip(self, tank: str, digit: str) -> None:
        """Leave out all that is due at a stop, for the reason with this digit."""
        self.is_at(tank)
        self.terminal.press("s")
        self.terminal.shows(f"{tank}: why is it left out?")
        self.terminal.press(digit)
        if "what?" in self.terminal.find(rf"{tank}: leave out what\?|skipped").group():
            self.terminal.press("enter")
        self.terminal.shows("skipped")

    def report(self, tank: str, digit: str) -> None:
        """Say how much of the feed given last is lying: 1 none, 2 some, 3 most."""
        self.is_at(tank)
        self.terminal.press("l")
        if "what?" in self.terminal.find(rf"{tank}: (leftovers of what\?|how much .* lying)").group():
            self.terminal.press("1")
        self.terminal.find(rf"{tank}: how much .* lying")
        self.terminal.press(digit)
        self.terminal.find(rf"{tank}: leftovers of .*: (none|some|most)")

    def undo(self) -> None:
        """Take back the last act."""
        self.terminal.press("u")
        self.terminal.shows("Take back what?")
        self.terminal.press("enter")
        self.terminal.shows("taken back")

    def jump(self, part: str, tank: str) -> None:
        """Go to a tank by a part of its name."""
        self.terminal.press("t")
        self.terminal.shows("Which tank?")
        self.terminal.press(*part, "enter")
        self.is_at(tank)

    def quit(self) -> None:
        """Close the program."""
        self.terminal.press("q")
        assert self.terminal.ended() == 0


def stops_done(terminal: Terminal) -> int:
    """How many stops the screen says are done."""
    found = re.search(r"(\d+) of \d+ stops done", terminal.text)
    assert found is not None
    return int(found[1])
