"""What a visitor of the demo finds of the animals within a minute."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

import pytest

from tui.cli.dashboard import make_demo
from tui.cli.main import run
from tui.cli.options import Options

NOW = "2026-11-25T07:05"


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Path:
    room_file = tmp_path_factory.mktemp("demo") / "demo.toml"
    make_demo(room_file, Options(room_file, now=datetime.fromisoformat(NOW)))
    return room_file


def said(demo: Path, capsys: pytest.CaptureFixture[str], *words: str) -> str:
    command, *others = words
    assert run([command, str(demo), *others, "--now", NOW]) == 0
    return capsys.readouterr().out


def test_a_hatch_is_expected_this_week(demo: Path, capsys: pytest.CaptureFixture[str]) -> None:
    text = said(demo, capsys, "expected")
    assert "l6 " in text and "hatch expected now, Wed 25 Nov to Thu 3 Dec" in text


def test_one_came_early_and_is_there(demo: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert "30 shrimplets (hatched Tue 24 Nov, 1 day old" in said(demo, capsys, "lives", "w6")


def test_a_cohort_did_badly_after_missed_fine_feed_and_another_did_well(
    demo: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    text = said(demo, capsys, "survival", "--by", "feeding")
    bad = next(line for line in text.splitlines() if line.startswith("l13"))
    good = next(line for line in text.splitlines() if line.startswith("l10"))
    assert "Alive at 30 days 20 %" in bad and "Alive at 30 days 90 %" in good
    assert "under half of the planned fine feed given: 1 hatch" in text
    assert "over 80 % of it given: 1 hatch" in text


def test_something_changed_before_three_died(demo: Path, capsys: pytest.CaptureFixture[str]) -> None:
    text = said(demo, capsys, "changed", "w12")
    assert "2 adults found dead in w12" in text and "1 adult found dead in w12" in text
    assert "conductivity from 231 µS/cm to 318 µS/cm" in text
    assert "15 adults new in w12 from the club's fair" in text
    assert "new sponge in the filter" in text


def test_the_three_dead_are_flagged_and_the_flag_names_the_command(
    demo: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    flag = next(line for line in said(demo, capsys, "flags").splitlines() if "found dead" in line)
    assert flag.startswith("high: w12 ") and "3 found dead within 2 days" in flag
    assert "`rackround changed ROOM.toml w12` lists it." in flag
