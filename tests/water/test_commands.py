"""`rackround read` and `rackround water`: typed readings, a meter's file, what is printed of both."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.cli.conftest import Rackround, rackround, room

__all__ = ["rackround", "room"]


def read_text(rackround: Rackround, tank: str = "a1") -> str:
    return rackround("water", tank).out


def test_what_is_typed_is_recorded_printed_and_taken_back(rackround: Rackround) -> None:
    answer = rackround("read", "a1", "tds=180", "temperature=23,5", "--at", "7:40")
    assert (answer.code, answer.out) == (0, "a1: temperature 23.5 °C, TDS 180 mg/L\n")
    assert "TDS 180 mg/L today; too few readings to judge by (1)" in read_text(rackround)
    assert rackround("undo").code == 0
    assert "nothing was read here yet" in read_text(rackround)


def test_a_slip_is_refused_with_what_may_be_meant_and_recorded_when_the_keeper_insists(rackround: Rackround) -> None:
    refused = rackround("read", "a1", "temperature=2.35")
    assert refused.code == 3
    assert "23.5 °C may be meant (--anyway records it all the same)" in refused.err
    assert rackround("read", "a1", "temperature=2.35", "--anyway").code == 0
    assert rackround("read", "a1", "ph=70").code == 3
    never = rackround("read", "a1", "ph=70", "--anyway")
    assert (never.code, never.err) == (2, "rackround: a1: value: found 70.0, allowed is a pH from 0 to 14\n")


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["a1", "tsd=180"], '"tsd=180" is not QUANTITY=VALUE, such as tds=180'),
        (["a1", "tds=many"], '"many" is not a number'),
        (["a1", "tds=180", "tds=190"], "a1: found a quantity twice, allowed is once"),
        (["a1"], "no value was given"),
        (["b7", "tds=180"], 'no tank "b7" in this room'),
        ([], "name a tank with QUANTITY=VALUE"),
        (["--csv", "nowhere.csv"], "nowhere.csv: cannot be read"),
    ],
)
def test_what_cannot_be_read_is_said_with_code_2(rackround: Rackround, words: list[str], said: str) -> None:
    answer = rackround("read", *words)
    assert answer.code == 2
    assert said in answer.err


FILE = """\
tank;date;time;Temp (°C);EC (µS/cm);GH [mg/L]
a1;24.11.2026;07:40;23,5;360;107
a2;24.11.2026;7:45;23,1;;
a1;2026-11-25;;23,7;364;
"""


def test_a_meters_file_is_read_once_however_often_it_is_given(rackround: Rackround, tmp_path: Path) -> None:
    path = tmp_path / "meter.csv"
    path.write_text(FILE, encoding="utf-8-sig")
    first = rackround("read", "--csv", str(path))
    undo = "rackround undo takes back one of the 2 days at a time, the latest first"
    said = f"{path}: 6 readings recorded, 0 known already; {undo}"
    assert (first.code, first.out.splitlines()[-1]) == (0, said)
    said = read_text(rackround)
    assert "temperature 23.7 °C today, +0.2 °C since yesterday" in said
    assert "6 dGH yesterday" in said  # 107 mg/L as CaCO3 are 6 degrees
    again = rackround("read", "--csv", str(path))
    assert (again.code, again.out) == (0, f"{path}: 0 readings recorded, 6 known already\n")


def test_undo_again_and_again_takes_a_meters_file_back_day_by_day_the_latest_first(
    rackround: Rackround, tmp_path: Path
) -> None:
    path = tmp_path / "meter.csv"
    path.write_text(FILE, encoding="utf-8-sig")
    assert rackround("read", "--csv", str(path)).code == 0
    assert rackround("undo").code == 0
    left = read_text(rackround)
    assert "23.5 °C yesterday" in left
    assert "23.7" not in left
    assert rackround("undo").code == 0
    assert "nothing was read here yet" in read_text(rackround)
    again = rackround("read", "--csv", str(path))
    assert "6 readings recorded, 0 known already" in again.out


def test_every_faulty_line_is_named_and_nothing_is_recorded(rackround: Rackround, tmp_path: Path) -> None:
    path = tmp_path / "meter.csv"
    path.write_text(
        "tank,date,time,tds\na1,2026-11-24,07:00,180\nb9,2026-11-24,,181\na1,24/11/2026,,182\n"
        "a1,2026-11-26,,183\na1,2026-11-24,25:00,184\na1,2026-11-24,,high\na1,2026-11-24\na1,2026-11-24,,\n",
        encoding="utf-8",
    )
    answer = rackround("read", "--csv", str(path))
    assert answer.code == 2
    assert [line.removeprefix(f"{path}: ") for line in answer.err.splitlines()] == [
        'line 3: tank: found "b9", allowed is a tank of the room: a1, a2',
        'line 4: date: found "24/11/2026", allowed is YYYY-MM-DD or DD.MM.YYYY',
        'line 5: date: found "2026-11-26", allowed is a day up to today, 2026-11-25',
        'line 6: time: found "25:00", allowed is HH:MM',
        'line 7: tds: found "high", allowed is a number with a point',
        "line 8: found 2 cells, allowed are 4, as in the header",
        "line 9: found no value, allowed is at least one",
    ]
    assert "nothing was read here yet" in read_text(rackround)


@pytest.mark.parametrize(
    ("header", "said"),
    [
        ("tank,date,salt", 'line 1: found "salt", allowed are tank, date, time, temperature'),
        ("tank,tds", 'line 1: found "tank", "tds", allowed is a header with a column named date'),
        ("tank,date,tds (lb)", 'line 1: tds: found the unit "lb", allowed is mg/l or ppm or g/l'),
        ("tank,date,ec,conductivity", 'line 1: found "conductivity" twice, allowed is once'),
        ("tank,date", "line 1: found no quantity, allowed are temperature"),
        ("", "line 1: found nothing, allowed is a header with a column named tank"),
    ],
)
def test_a_header_that_says_too_little_is_named(rackround: Rackround, tmp_path: Path, header: str, said: str) -> None:
    path = tmp_path / "meter.csv"
    path.write_text(f"{header}\n", encoding="utf-8")
    answer = rackround("read", "--csv", str(path))
    assert answer.code == 2
    assert said in answer.err


def test_a_slip_in_a_file_is_questioned_and_nothing_recorded_until_the_keeper_insists(
    rackround: Rackround, tmp_path: Path
) -> None:
    path = tmp_path / "meter.csv"
    path.write_text("tank,date,temperature\na1,2026-11-24,23.5\na2,2026-11-24,2.35\n", encoding="utf-8")
    refused = rackround("read", "--csv", str(path))
    assert refused.code == 3
    assert "a2: temperature 2.35 °C: the point may be in the wrong place" in refused.err
    assert "nothing was read here yet" in read_text(rackround)
    assert rackround("read", "--csv", str(path), "--anyway").code == 0


def test_findings_and_sources_are_printed(rackround: Rackround) -> None:
    for day, value in (("2026-11-18", "24"), ("2026-11-21", "24.1"), ("2026-11-25", "26.4")):
        assert rackround("read", "a1", f"temperature={value}", "--on", day).code == 0
    said = rackround("water", "--sources").out
    assert "found on 2026-11-25, a1: temperature from 24.1 °C to 26.4 °C since Sat 21 Nov, in one step" in said
    assert "Emerson, Russo, Lund and Thurston 1975" in said
    flagged = rackround("flags").out
    assert "water changed in one step: temperature from 24.1 °C to 26.4 °C" in flagged
    assert rackround("water", "--json").data["format"] == "rackround-water/1"
