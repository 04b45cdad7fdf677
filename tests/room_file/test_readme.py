"""What the README says of room files is so."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from schedules.room_file import load_room_text

README = Path(__file__).parents[2] / "README.md"
SNIPPETS = re.findall(r"^```toml\n(.*?)^```", README.read_text(encoding="utf-8"), re.MULTILINE | re.DOTALL)


def test_the_readme_shows_a_room_file() -> None:
    assert SNIPPETS


@pytest.mark.parametrize("snippet", SNIPPETS)
def test_a_room_file_of_the_readme_is_sound(snippet: str) -> None:
    room = load_room_text(snippet, "README.md")
    assert room.walk and room.feeds
