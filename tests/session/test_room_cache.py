"""A kept room is the room of the very same file, or it is not used."""

from __future__ import annotations

from pathlib import Path

import pytest

from demo_racks import room_path
from schedules.room_file import RoomFileFaults, load_room
from tui.room_cache import cache_path, cached_room


@pytest.fixture(autouse=True)
def _own_cache(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    monkeypatch.setenv("LOCALAPPDATA", str(tmp_path / "cache"))


@pytest.fixture
def room_file(tmp_path: Path) -> Path:
    path = tmp_path / "room.toml"
    path.write_bytes(room_path("first_rack").read_bytes())
    return path


def test_a_room_that_was_kept_is_the_room_that_would_be_read(room_file: Path) -> None:
    first = cached_room(room_file)

    assert cache_path(room_file).exists()
    assert cached_room(room_file) == first == load_room(room_file)
    assert cached_room(room_file).walk == first.walk


def test_an_edited_file_is_read_anew(room_file: Path) -> None:
    before = cached_room(room_file)
    room_file.write_text(room_file.read_text(encoding="utf-8").replace(before.name, "Another name"), encoding="utf-8")

    assert cached_room(room_file).name == "Another name"


def test_a_file_that_turned_faulty_is_told_though_a_sound_room_is_kept(room_file: Path) -> None:
    cached_room(room_file)
    room_file.write_text("name = 3", encoding="utf-8")

    with pytest.raises(RoomFileFaults):
        cached_room(room_file)


@pytest.mark.parametrize("damage", [b"", b"short", b"0" * 64 + b"not a pickle"])
def test_a_damaged_cache_is_read_past(room_file: Path, damage: bytes) -> None:
    room = cached_room(room_file)
    kept = cache_path(room_file).read_bytes()
    cache_path(room_file).write_bytes(damage or kept[: len(kept) // 2])

    assert cached_room(room_file) == room


def test_a_cache_that_others_could_write_is_not_used(room_file: Path) -> None:
    cached_room(room_file)
    place = cache_path(room_file)
    place.chmod(0o666)
    place.write_bytes(place.read_bytes()[:64] + b"cos\nsystem\n(S'touch harmed'\ntR.")

    assert cached_room(room_file) == load_room(room_file)
    assert not Path("harmed").exists()


def test_a_folder_that_cannot_be_written_changes_nothing(room_file: Path, tmp_path: Path) -> None:
    (tmp_path / "cache").write_text("a file where the folder should be", encoding="utf-8")

    assert cached_room(room_file) == load_room(room_file)
