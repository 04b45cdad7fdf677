"""Demos, each in a folder of its own."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from tests.pty.demo import Demo


@pytest.fixture(scope="session")
def first_demo(tmp_path_factory: pytest.TempPathFactory) -> Demo:
    """A demo that was opened once and closed again untouched."""
    made = Demo(tmp_path_factory.mktemp("demo") / "kept")
    with made.open() as terminal:
        terminal.shows("stops done", "keys")
        terminal.press("q")
        assert terminal.ended() == 0
    return made


@pytest.fixture
def demo(first_demo: Demo, tmp_path: Path) -> Demo:
    """A copy of it for one test."""
    folder = tmp_path / "kept"
    shutil.copytree(first_demo.folder, folder)
    return Demo(folder)
