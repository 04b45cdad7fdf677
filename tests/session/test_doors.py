"""Whatever is done, and through whichever door: the ledger is the same to the last byte."""

from __future__ import annotations

from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.session.doors import (
    DOORS,
    FEEDS,
    KEEPERS,
    TANKS,
    Come,
    Give,
    Look,
    Note,
    Script,
    Skip,
    Step,
    Undo,
    left_by,
    opened_room,
)

by, tanks, feeds = st.sampled_from(KEEPERS), st.sampled_from(TANKS), st.sampled_from(FEEDS)
amounts = st.none() | st.sampled_from((0.25, 1.0, 2.5))
texts = st.text(st.characters(codec="utf-8", exclude_characters="\0"), min_size=1, max_size=12).filter(
    lambda text: not text.startswith("-")
)
steps: st.SearchStrategy[Step] = st.one_of(
    st.builds(Give, by, tanks, feeds, amounts, st.booleans(), st.sampled_from((0, 0, 0, 1, 40))),
    st.builds(Skip, by, tanks, feeds, texts),
    st.builds(Look, by, tanks, feeds, st.sampled_from(("none", "some", "most"))),
    st.builds(Come, by, tanks, feeds, st.sampled_from(("fast", "slowly", "nobody"))),
    st.builds(Note, by, tanks, texts),
    st.builds(Undo, by),
)


@pytest.fixture(scope="module")
def opened(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return opened_room(tmp_path_factory.mktemp("doors") / "opened")


@settings(max_examples=25, deadline=None)
@given(st.lists(steps, min_size=1, max_size=8))
def test_every_door_leaves_the_same_ledger(opened: Path, script: Script) -> None:
    with TemporaryDirectory() as place:
        left = {name: left_by(door, script, opened, Path(place) / name) for name, door in DOORS.items()}

    assert all(lines == left["session"] for lines in left.values())


def test_a_script_through_every_door_writes_what_it_says(opened: Path, tmp_path: Path) -> None:
    script = [
        Give("Mara", "a1", "dust", 0.5, True, 0),
        Skip("Ole", "a2", "flake", "cloudy"),
        Look("Mara", "a1", "dust", "some"),
        Come("Ole", "a1", "dust", "nobody"),
        Note("Ole", "a2", "hatched"),
        Undo("Mara"),
    ]
    nothing = left_by(DOORS["session"], [], opened, tmp_path / "nothing")

    for name, door in DOORS.items():
        lines = left_by(door, script, opened, tmp_path / name)
        assert len(lines) >= len(nothing) + 5
        assert "undone" in lines[-1]
