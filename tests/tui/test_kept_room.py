"""A kept room is the room of the very same file and the user's own, or it is not used."""

from __future__ import annotations

import json
import os
from collections.abc import Callable
from pathlib import Path

import pytest

from demo_racks import room_path
from schedules.room import Room
from schedules.room_file import RoomFileFaults, load_room
from tui import kept_room as keeping
from tui.kept_room import MOST_KEPT, cache_path, kept_room


@pytest.fixture(autouse=True)
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    return tmp_path / "cache" / "rackround"


@pytest.fixture
def room_file(tmp_path: Path) -> Path:
    path = tmp_path / "room.toml"
    path.write_bytes(room_path("first_rack").read_bytes())
    return path


@pytest.fixture
def reads(monkeypatch: pytest.MonkeyPatch) -> list[Path]:
    """The room files that were read and checked, one entry a time."""
    read: list[Path] = []

    def load(path: Path) -> Room:
        read.append(path)
        return load_room(path)

    monkeypatch.setattr("schedules.room_file.load_room", load)
    return read


def rename_kept(room_file: Path, name: str) -> None:
    """Change what is kept, so that it can be told from what the file says."""
    place = cache_path(room_file)
    kept = json.loads(place.read_text("utf-8"))
    kept["room"][0] = name
    place.write_text(json.dumps(kept), "utf-8")


def test_a_room_that_was_kept_is_the_room_that_would_be_read(room_file: Path, reads: list[Path]) -> None:
    first = kept_room(room_file, keep=True)

    assert kept_room(room_file, keep=True) == first == load_room(room_file)
    assert reads == [room_file]


def test_nothing_is_kept_unless_it_is_asked_for(room_file: Path, folder: Path) -> None:
    kept_room(room_file, keep=False)

    assert not folder.exists()


def test_a_kept_room_is_used_where_nothing_is_to_be_kept(room_file: Path, reads: list[Path]) -> None:
    kept_room(room_file, keep=True)
    kept_room(room_file, keep=False)

    assert reads == [room_file]


def test_folder_and_file_are_closed_to_others(room_file: Path, folder: Path) -> None:
    kept_room(room_file, keep=True)

    assert folder.stat().st_mode & 0o777 == 0o700
    assert cache_path(room_file).stat().st_mode & 0o777 == 0o600
    assert [each.name for each in folder.iterdir()] == [cache_path(room_file).name]


def test_an_edited_file_is_read_again(room_file: Path) -> None:
    before = kept_room(room_file, keep=True)
    room_file.write_text(room_file.read_text("utf-8").replace(before.name, "Another name"), "utf-8")

    assert kept_room(room_file, keep=True).name == "Another name"


def test_a_file_that_turned_faulty_is_refused_though_a_sound_room_is_kept(room_file: Path) -> None:
    kept_room(room_file, keep=True)
    room_file.write_text("name = 3", encoding="utf-8")

    with pytest.raises(RoomFileFaults):
        kept_room(room_file, keep=True)


def test_a_missing_file_is_refused_though_its_room_is_kept(room_file: Path) -> None:
    kept_room(room_file, keep=True)
    room_file.unlink()

    with pytest.raises(RoomFileFaults, match="no file of this name"):
        kept_room(room_file, keep=True)


def test_what_another_version_of_the_program_kept_is_not_used(
    room_file: Path, reads: list[Path], monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    kept_room(room_file, keep=True)
    other = tmp_path / "other" / "room" / "__init__.py"
    other.parent.mkdir(parents=True)
    other.write_text("another version", "utf-8")
    monkeypatch.setattr("schedules.room.__file__", str(other))

    kept_room(room_file, keep=True)
    assert len(reads) == 2


def cut(kept: bytes) -> bytes:
    return kept[: len(kept) // 2]


def without_tanks(kept: bytes) -> bytes:
    data = json.loads(kept)
    data["room"][6] = None
    return json.dumps(data).encode()


@pytest.mark.parametrize(
    "damage",
    [
        lambda _: b"",
        cut,
        without_tanks,
        lambda _: b"[]",
        lambda _: b"{}",
        lambda _: b"\xff\xfe",
        lambda _: b"[" * 100_000,
        lambda kept: b" " * keeping.LARGEST + kept,
    ],
    ids=["empty", "cut", "no tanks", "a list", "no mark", "no text", "deep", "too large"],
)
def test_a_damaged_file_is_read_past_and_replaced(
    damage: Callable[[bytes], bytes], room_file: Path, reads: list[Path]
) -> None:
    room = kept_room(room_file, keep=True)
    place = cache_path(room_file)
    place.write_bytes(damage(place.read_bytes()))

    assert kept_room(room_file, keep=True) == room
    assert kept_room(room_file, keep=True) == room
    assert len(reads) == 2, "the second time it is kept again"


def test_the_kept_room_that_the_next_tests_change_would_be_used(room_file: Path) -> None:
    kept_room(room_file, keep=True)
    rename_kept(room_file, "Planted")

    assert kept_room(room_file, keep=True).name == "Planted"


def test_what_somebody_else_owns_is_neither_read_nor_replaced(
    room_file: Path, folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    name = kept_room(room_file, keep=True).name
    rename_kept(room_file, "Planted")
    before = cache_path(room_file).read_bytes()
    monkeypatch.setattr(os, "getuid", lambda: os.geteuid() + 1)

    assert kept_room(room_file, keep=True).name == name
    assert cache_path(room_file).read_bytes() == before
    assert len(list(folder.iterdir())) == 1


@pytest.mark.parametrize("mode", [0o606, 0o660, 0o644])
def test_a_file_that_others_could_open_is_not_used(mode: int, room_file: Path) -> None:
    name = kept_room(room_file, keep=True).name
    rename_kept(room_file, "Planted")
    cache_path(room_file).chmod(mode)

    assert kept_room(room_file, keep=True).name == name


def test_a_folder_that_others_could_open_is_not_used(room_file: Path, folder: Path) -> None:
    name = kept_room(room_file, keep=True).name
    rename_kept(room_file, "Planted")
    folder.chmod(0o777)

    assert kept_room(room_file, keep=True).name == name


def test_a_link_instead_of_the_file_is_not_followed(room_file: Path, tmp_path: Path) -> None:
    name = kept_room(room_file, keep=True).name
    rename_kept(room_file, "Planted")
    place, target = cache_path(room_file), tmp_path / "target"
    place.rename(target)
    place.symlink_to(target)
    before = target.read_bytes()

    assert kept_room(room_file, keep=True).name == name
    assert target.read_bytes() == before, "and what it leads to is not written"
    assert not place.is_symlink(), "but the link is replaced"


def test_a_second_name_of_the_file_elsewhere_is_not_used(room_file: Path, tmp_path: Path) -> None:
    name = kept_room(room_file, keep=True).name
    rename_kept(room_file, "Planted")
    os.link(cache_path(room_file), tmp_path / "second")

    assert kept_room(room_file, keep=True).name == name


def test_a_link_instead_of_the_folder_is_not_followed(room_file: Path, folder: Path, tmp_path: Path) -> None:
    name = kept_room(room_file, keep=True).name
    rename_kept(room_file, "Planted")
    folder.rename(tmp_path / "elsewhere")
    folder.symlink_to(tmp_path / "elsewhere")
    before = {each: each.read_bytes() for each in (tmp_path / "elsewhere").iterdir()}

    assert kept_room(room_file, keep=True).name == name
    assert {each: each.read_bytes() for each in (tmp_path / "elsewhere").iterdir()} == before


def test_a_pipe_in_its_place_holds_nothing_up(room_file: Path) -> None:
    name = kept_room(room_file, keep=True).name
    cache_path(room_file).unlink()
    os.mkfifo(cache_path(room_file), 0o600)

    assert kept_room(room_file, keep=True).name == name


def test_a_folder_that_cannot_be_written_changes_nothing(room_file: Path, tmp_path: Path) -> None:
    (tmp_path / "cache").write_text("a file where the folder should be", encoding="utf-8")

    assert kept_room(room_file, keep=True) == load_room(room_file)


def test_the_oldest_of_too_many_kept_rooms_goes(room_file: Path, folder: Path, tmp_path: Path) -> None:
    for number in range(MOST_KEPT + 3):
        path = tmp_path / f"{number}.toml"
        path.write_bytes(room_file.read_bytes())
        kept_room(path, keep=True)
        os.utime(cache_path(path), (number, number))

    kept = {cache_path(tmp_path / f"{number}.toml") for number in range(3, MOST_KEPT + 3)}
    assert set(folder.iterdir()) == kept


def test_a_room_that_cannot_be_written_out_leaves_no_draft(
    room_file: Path, folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(*_: object, **__: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("json.dump", full)

    assert kept_room(room_file, keep=True) == load_room(room_file)
    assert list(folder.iterdir()) == []
