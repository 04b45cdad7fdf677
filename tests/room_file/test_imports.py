"""What reading a room file loads: little, so that the first screen is there at once."""

from __future__ import annotations

import subprocess
import sys

import pytest

from demo_racks import room_path

READ = "import sys; from pathlib import Path; from schedules.room_file import load_room; load_room(Path(sys.argv[1]))"


def loaded_by(room: str) -> set[str]:
    """The packages that a fresh interpreter has loaded after reading an invented room."""
    code = f"{READ}; print(*{{name.partition('.')[0] for name in sys.modules}})"
    done = subprocess.run([sys.executable, "-c", code, room_path(room)], capture_output=True, text=True, check=True)
    return set(done.stdout.split())


@pytest.mark.parametrize(("room", "rules"), [("first_rack", False), ("breeding_room", True)])
def test_reading_a_room_loads_no_screen_and_dateutil_only_for_a_recurrence_rule(room: str, rules: bool) -> None:
    loaded = loaded_by(room)
    assert "pydantic" in loaded
    assert not loaded & {"textual", "rich", "tomli_w", "difflib", "sqlite3"}
    assert ("dateutil" in loaded) == rules
