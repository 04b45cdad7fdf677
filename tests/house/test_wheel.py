"""The wheel carries all that the program needs and runs from wherever it is installed."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path
from zipfile import ZipFile

import pytest

from tests.house.modules import ROOT


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The wheel, built from a copy, so that nothing is left in the working tree."""
    folder = tmp_path_factory.mktemp("wheel")
    copy = folder / "source"
    files = subprocess.run(
        ["git", "ls-files", "--cached", "--others", "--exclude-standard"],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=True,
    )
    for name in files.stdout.splitlines():
        if name.startswith(("tui/", "schedules/", "demo_racks/")) or "/" not in name:
            (copy / name).parent.mkdir(parents=True, exist_ok=True)
            (copy / name).write_bytes((ROOT / name).read_bytes())
    pip = [sys.executable, "-P", "-m", "pip", "wheel", "--quiet", "--no-deps", "--no-build-isolation", "--no-index"]
    subprocess.run([*pip, "--wheel-dir", str(folder), str(copy)], check=True, capture_output=True)
    return next(folder.glob("*.whl"))


def test_the_wheel_is_for_every_machine_and_needs_no_compiler(wheel: Path) -> None:
    assert wheel.name.endswith("-py3-none-any.whl")


def test_the_wheel_carries_styles_rooms_and_the_manual_page(wheel: Path) -> None:
    names = ZipFile(wheel).namelist()
    data = [*(ROOT / "tui").rglob("*.tcss"), *(ROOT / "demo_racks").glob("*.toml")]

    assert [path.name for path in data if path.relative_to(ROOT).as_posix() not in names] == []
    assert any(name.endswith("share/man/man1/rackround.1") for name in names)
    assert [name for name in names if name.startswith("tests/")] == []


def test_the_program_runs_from_the_wheel_alone_in_another_folder(wheel: Path, tmp_path: Path) -> None:
    target = tmp_path / "installed"
    with ZipFile(wheel) as packed:
        packed.extractall(target)
    environment = {**os.environ, "PYTHONPATH": str(target)}
    command = [sys.executable, "-P", "-c", "from tui.__main__ import main; main()"]
    place = tmp_path / "elsewhere"
    place.mkdir()

    def ran(*words: str) -> str:
        done = subprocess.run([*command, *words], cwd=place, env=environment, capture_output=True, text=True)
        assert done.returncode == 0, done.stderr
        return done.stdout

    assert str(target) in ran("doctor")
    ran("new", "shed.toml", "--yes")
    assert "sound" in ran("check", "shed.toml")
    assert ran("round", "shed.toml")
