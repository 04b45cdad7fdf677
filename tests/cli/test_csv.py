"""Every table can be had as CSV that the standard library and a spreadsheet read back as it was meant."""

from __future__ import annotations

import csv
import json
from io import StringIO
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.tui.rooms import make_session, room_text
from tui.cli.main import run
from tui.cli.parser import Words
from tui.cli.table import csv_text

NOW = ["--now", "2026-11-25T07:10"]


@pytest.fixture
def room(tmp_path: Path) -> str:
    path = tmp_path / "room.toml"
    path.write_text(room_text(), encoding="utf-8")
    make_session(tmp_path).ledger.close()
    return str(path)


def printed(capsys: pytest.CaptureFixture[str], *words: str) -> str:
    capsys.readouterr()
    assert run([*words, *NOW]) == 0
    return capsys.readouterr().out


def test_a_plan_as_a_table_has_a_line_for_each_serving(room: str, capsys: pytest.CaptureFixture[str]) -> None:
    document = json.loads(printed(capsys, "plan", room, "--json"))
    rows = list(csv.DictReader(StringIO(printed(capsys, "plan", room, "--csv"), newline="")))

    assert [(row["date"], row["tank"], row["feed"]) for row in rows] == [
        (each["date"], each["tank"], each["feed"]) for each in document["servings"]
    ]
    assert [float(row["amount_mg"]) for row in rows] == [each["amount_mg"] for each in document["servings"]]


def test_a_serving_of_a_round_has_the_tank_of_its_stop(room: str, capsys: pytest.CaptureFixture[str]) -> None:
    stops = json.loads(printed(capsys, "round", room, "--json"))["stops"]
    rows = list(csv.DictReader(StringIO(printed(capsys, "round", room, "--csv"), newline="")))

    assert [(row["tank"], row["feed"]) for row in rows] == [
        (stop["tank"], serving["feed"]) for stop in stops for serving in stop["servings"]
    ]


def test_lines_end_with_crlf_and_have_as_many_fields_each(room: str, capsys: pytest.CaptureFixture[str]) -> None:
    # RFC 4180, 2: 1 and 4.
    text = printed(capsys, "stock", room, "--csv")
    rows = list(csv.reader(StringIO(text, newline="")))

    assert text.count("\n") == text.count("\r\n") == len(rows)
    assert len({len(row) for row in rows}) == 1


def test_every_command_that_prints_json_prints_a_table_or_has_none_to_print() -> None:
    assert all("--csv" in Words().commands.choices.choices[name].format_help() for name in Words().commands.json)


def test_a_command_without_a_table_says_which_have_one(room: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["check", room, "--csv"]) == 2
    assert "check prints no table" in capsys.readouterr().err


def test_json_and_a_table_cannot_be_had_at_once(room: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["plan", room, "--csv", "--json"]) == 2
    assert "not allowed with" in capsys.readouterr().err


@pytest.mark.parametrize("text", ['=HYPERLINK("x")', "+1", "-1+2", "@SUM(A1)", "\t=1", "\r=1"])
def test_no_text_is_taken_for_a_formula(text: str) -> None:
    # OWASP, CSV injection: a cell must not begin with = + - @, a tab or a carriage return.
    rows = list(csv.reader(StringIO(csv_text("flags", {"flags": [{"note": text}]}), newline="")))

    assert rows == [["note"], [f"'{text}"]]


def test_a_negative_number_stays_a_number() -> None:
    assert csv_text("flags", {"flags": [{"change": -1.5}]}) == "change\r\n-1.5\r\n"


@given(
    st.lists(st.fixed_dictionaries({"a": st.text(), "b": st.integers(), "c": st.none() | st.booleans()}), min_size=1)
)
def test_what_is_written_is_read_back_cell_by_cell(rows: list[dict[str, object]]) -> None:
    read = list(csv.DictReader(StringIO(csv_text("x", {"rows": rows}), newline="")))

    assert [int(row["b"]) for row in read] == [row["b"] for row in rows]
    for found, row in zip(read, rows, strict=True):
        assert found["a"].removeprefix("'") == str(row["a"]).removeprefix("'")
        assert found["c"] == {None: "", True: "true", False: "false"}[row["c"]]  # type: ignore[index]
