"""A room file in a folder of its own, and the program's commands run on it."""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest

from tui.cli.main import run

MORNING = "2026-11-25T07:30"

ROOM = """\
name = "Two shelves"
time_zone = "Europe/Vienna"

[[keepers]]
name = "Mara"

[[keepers]]
name = "Ole"

[[feeds]]
id = "dust"
name = "Fine dust"
kind = "powder"
per_week = 7
max_gap = 1

[[feeds]]
id = "flake"
name = "Pressed flake"
kind = "staple"
min_gap = 2

[[racks]]
id = "left"
name = "Left rack"

[[racks.tanks]]
id = "a1"
name = "Upper [left] one"
volume = 60
surface = "rippled"
grazing = "fair"
animals = [{ stage = "adult", count = 90 }, { stage = "shrimplet", count = 200 }]

[[racks.tanks]]
id = "a2"
name = "Upper right one"
volume = 60
surface = "rippled"
grazing = "fair"
animals = [{ stage = "adult", count = 90 }, { stage = "shrimplet", count = 200 }]
"""


@dataclass
class Answer:
    """What a command ended with and printed."""

    code: int
    out: str
    err: str

    @property
    def data(self) -> Any:
        return json.loads(self.out)


Rackround = Callable[..., Answer]


@pytest.fixture
def room(tmp_path: Path) -> Path:
    path = tmp_path / "room.toml"
    path.write_text(ROOM, encoding="utf-8")
    return path


@pytest.fixture
def rackround(room: Path, capsys: pytest.CaptureFixture[str]) -> Rackround:
    """Runs a command on the room, on a Wednesday morning unless told otherwise."""

    def command(name: str, *words: str, now: str = MORNING) -> Answer:
        code = run([name, str(room), *words, "--now", now])
        printed = capsys.readouterr()
        return Answer(code, printed.out, printed.err)

    return command
