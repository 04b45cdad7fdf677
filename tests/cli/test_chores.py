"""`rackround chores` and `rackround did`: what is due where, what is refused, and what a late turn does to the next."""

from __future__ import annotations

from pathlib import Path

import pytest

from schedules.wording.chores.chores import rule_text
from tests.cli.conftest import ROOM, Rackround

CHORES = """
[[chores]]
template = "wipe_front"
from = 2026-11-23
within = 1

[[chores]]
template = "top_off"
tanks = ["a1"]
from = 2026-11-20
within = 1

[[chores]]
template = "calibrate_meters"
from = 2026-11-25
within = 1

[[chores]]
id = "lamps"
name = "Dust the lamps"
each = "rack"
every = 30
from = 2026-12-24
"""


@pytest.fixture
def room(tmp_path: Path) -> Path:
    path = tmp_path / "room.toml"
    path.write_text(ROOM.replace("[[racks]]", f"{CHORES}\n[[racks]]", 1), encoding="utf-8")
    return path


def test_chores_are_listed_with_where_they_are_due_and_since_when(rackround: Rackround) -> None:
    out = rackround("chores").out

    assert out.startswith("Two shelves, Wed 25 Nov 2026: 4 chores to do, 11 min\n")
    assert "Wipe the front glass (wipe_front), 1 min, every week\n  a1: 2 days late, due since Mon 23 Nov\n" in out
    assert "Top off (top_off), 1 min, 3 days after it was done\n  a1: 5 days late, due since Fri 20 Nov\n" in out
    assert "Calibrate the meters (calibrate_meters), 8 min, 30 days after it was done\n  the room: due today\n" in out
    assert out.endswith("Dust the lamps (lamps), 2 min, 30 days after it was done\n  nothing due\n")


@pytest.mark.parametrize(
    ("rule", "text"),
    [
        ("FREQ=DAILY", "every day"),
        ("FREQ=WEEKLY;BYDAY=MO,TH", "every week on Mon, Thu"),
        ("FREQ=MONTHLY;INTERVAL=2", "every 2 months"),
        ("FREQ=MONTHLY;BYDAY=1MO", "by the rule FREQ=MONTHLY;BYDAY=1MO"),
    ],
)
def test_a_plain_calendar_is_put_into_words(rule: str, text: str) -> None:
    assert rule_text(rule) == text


def test_a_day_to_come_shows_what_comes_then_if_all_is_done_on_its_day(rackround: Rackround) -> None:
    data = rackround("chores", "--on", "2026-11-30", "--json").data

    assert [(each["chore"], each["tank"], each["state"]) for each in data["chores"]] == [
        ("wipe_front", "a1", "due"),
        ("wipe_front", "a2", "due"),
    ]
    assert data["minutes"] == 2


def test_a_late_turn_moves_the_next_where_days_are_counted_and_a_calendar_stays(rackround: Rackround) -> None:
    assert rackround("did", "top_off", "a1").out == "Top off done, a1; 5 days late, so the next moves to Sat 28 Nov\n"
    assert rackround("did", "wipe_front", "a1").out == (
        "Wipe the front glass done, a1; 2 days late, the calendar stays: next Mon 30 Nov\n"
    )
    states = {(each["chore"], each["tank"]): each["state"] for each in rackround("chores", "--json").data["chores"]}
    assert states["top_off", "a1"] == states["wipe_front", "a1"] == "done"
    assert states["wipe_front", "a2"] == "due"


def test_a_chore_is_marked_once_a_day_and_undone_is_due_again(rackround: Rackround) -> None:
    assert rackround("did", "calibrate_meters").code == 0
    again = rackround("did", "calibrate_meters")
    assert (again.code, "already marked by Mara" in again.err) == (3, True)

    assert rackround("undo").out == "taken back: Calibrate the meters done, the room\n"
    assert rackround("did", "calibrate_meters", "--because", "standard is empty").out.startswith(
        "Calibrate the meters left out, the room: standard is empty"
    )


def test_a_chore_done_on_a_past_day_counts_from_that_day(rackround: Rackround) -> None:
    rackround("did", "top_off", "a1", "--on", "2026-11-23")

    assert "a1" not in rackround("chores").out.split("Top off")[1].split("\n\n")[0]
    assert "a1: due today" in rackround("chores", now="2026-11-26T07:30").out.split("Top off")[1]


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["wype_front", "a1"], 'no chore "wype_front" in this room; did you mean "wipe_front"?'),
        (["wipe_front"], "wipe_front is done tank by tank: name one, such as a1"),
        (["top_off", "a2"], 'no tank with this chore "a2" in this room; did you mean "a1"?'),
        (["calibrate_meters", "a1"], "calibrate_meters is a chore of the room; leave a1 out"),
        (["top_off", "a1", "--on", "2026-11-26"], "--on 2026-11-26 lies ahead; today is 2026-11-25"),
    ],
)
def test_what_names_no_chore_or_place_is_a_fault_that_says_what_is_allowed(
    rackround: Rackround, words: list[str], said: str
) -> None:
    answer = rackround("did", *words)

    assert (answer.code, answer.err) == (2, f"rackround: {said}\n")


def test_the_round_sheet_carries_chores_at_their_stops_and_late_ones_are_missed(rackround: Rackround) -> None:
    stops = {stop["tank"]: stop for stop in rackround("round", "--json").data["stops"]}
    assert [each["chore"] for each in stops["a1"]["chores"]] == ["wipe_front", "top_off"]
    assert (stops[None]["walk"], stops[None]["chores"][0]["chore"]) == ("before", "calibrate_meters")
    assert "chore: Top off, 1 min. 5 days late" in rackround("round").out

    out = rackround("missed").out
    assert "3 chores late" in out
    assert "Still due: the next turn counts from the day it is done:\n  a1: Top off, 5 days late" in out
    assert [each["days_late"] for each in rackround("missed", "--json").data["chores"]] == [5, 2, 2]


def test_a_room_without_chores_says_so(rackround: Rackround, room: Path) -> None:
    room.write_text(ROOM, encoding="utf-8")

    assert rackround("chores").out.endswith("0 chores to do, 0 min\nthe room file has no [[chores]]\n")
