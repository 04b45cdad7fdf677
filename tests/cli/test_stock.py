"""`rackround stock` and the commands that change the shelf."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tests.tui.rooms import room_text
from tui.cli.main import run

NOW = ["--now", "2026-11-25T07:10"]


@pytest.fixture
def room(tmp_path: Path) -> str:
    path = tmp_path / "room.toml"
    path.write_text(room_text(), encoding="utf-8")
    return str(path)


def test_a_weighing_a_delivery_and_an_open_pack_are_on_the_shelf(room: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["weighed", room, "dust", "12,5", *NOW]) == 0
    assert run(["delivered", room, "dust", "50", "--lot", "K 7", "--use-by", "2027-03-31", *NOW]) == 0
    assert run(["opened", room, "dust", "--lot", "K 7", *NOW]) == 0
    capsys.readouterr()

    assert run(["stock", room, "--json", *NOW]) == 0
    feeds = {each["feed"]: each for each in json.loads(capsys.readouterr().out)["feeds"]}
    assert feeds["dust"]["grams"]["most"] == 62.5
    assert feeds["dust"]["pack"] == {"lot": "K 7", "opened": "2026-11-25", "use_by": "2027-03-31"}
    assert feeds["flake"]["grams"] is None


def test_the_order_list_names_what_runs_out_first(room: str, capsys: pytest.CaptureFixture[str]) -> None:
    run(["weighed", room, "dust", "0.05", *NOW])
    run(["weighed", room, "flake", "3", *NOW])
    capsys.readouterr()

    assert run(["stock", room, *NOW]) == 0
    orders = capsys.readouterr().out.partition("To order:\n")[2].splitlines()
    assert [line.strip().partition(":")[0] for line in orders] == ["Nettle dust", "Plain pellets"]


def test_what_has_to_be_ordered_today_is_said_before_the_round(room: str, capsys: pytest.CaptureFixture[str]) -> None:
    run(["weighed", room, "dust", "0.05", *NOW])
    run(["weighed", room, "flake", "500", *NOW])
    run(["stock", room, *NOW])
    capsys.readouterr()

    assert run(["prepare", room, *NOW]) == 0
    warnings = [line for line in capsys.readouterr().out.splitlines() if line.startswith("!")]
    assert len(warnings) == 1
    assert warnings[0].startswith("! order ") and " now: Nettle dust runs out about " in warnings[0]


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["weighed", "ROOM", "dus", "3"], 'did you mean "dust"?'),
        (["weighed", "ROOM", "dust", "-3"], "is not a number from 0 up to"),
        (["delivered", "ROOM", "dust", "0"], "is not a number above 0"),
        (["delivered", "ROOM", "dust", "5", "--use-by", "31.3.2027"], "write YYYY-MM-DD"),
        (["opened", "ROOM", "dust", "--on", "2027-01-01"], "lies ahead"),
    ],
)
def test_a_faulty_word_is_named_and_nothing_is_written(
    words: list[str], said: str, room: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run([room if word == "ROOM" else word for word in words] + NOW) == 2

    assert said in capsys.readouterr().err
