"""What is legal in a room file and odd: warned of with line and key. The limits are common practice, no source."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from demo_racks import ROOMS, room_path
from schedules.room_file import load_room, load_room_text
from schedules.room_file.diagnosis.warnings import warnings_of
from schedules.room_file.starter import StarterAnswers, starter_text
from tests.room_file.rooms import FEEDS, room_text

TODAY = date(2026, 11, 25)
ADULTS = 'volume = 54\nanimals = [{ stage = "adult", count = 20 }, { stage = "shrimplet", count = 20 }]\n'


def said_of(tmp_path: Path, *, top: str = "", feeds: str = FEEDS, tank: str = ADULTS) -> list[str]:
    path = tmp_path / "room.toml"
    path.write_text(room_text(top=top, feeds=feeds, tank=tank), encoding="utf-8")
    return [line.removeprefix(f"{path}:") for line in warnings_of(path, load_room(path), TODAY)]


def test_a_usual_room_is_warned_of_nothing(tmp_path: Path) -> None:
    assert said_of(tmp_path) == []


@pytest.mark.parametrize(
    ("tank", "said"),
    [
        (
            "",
            "13: racks[left].tanks[b]: no animals in it, so nothing is planned for it",
        ),
        (
            "quarantine = true\n" + 'animals = [{ stage = "adult", count = 5 }]\n',
            "16: racks[left].tanks[b].quarantine: a quarantine without end; quarantine_days = 30 would give it one",
        ),
        (
            'animals = [{ stage = "adult", count = 400 }]\n',
            "16: racks[left].tanks[b].animals: 400 animals beyond shrimplets in 54 L; "
            "more than 5 in a litre is far over the usual",
        ),
        (
            'animals = [{ stage = "adult", count = 4 }, { stage = "adult", count = 4, to = 2019-01-01 }]\n',
            "16: racks[left].tanks[b].animals[2].to: 2019-01-01 is long past; these animals count no more",
        ),
        (
            'feeds = ["pellet"]\n' + ADULTS.partition("\n")[2],
            '13: racks[left].tanks[b]: shrimplets without any feed for them of kind biofilm or powder (tanks "b")',
        ),
        (
            'animals = [{ stage = "filter_feeder", count = 4 }]\n',
            '13: racks[left].tanks[b]: filter feeders without any feed for them of kind suspension (tanks "b")',
        ),
    ],
)
def test_a_tank_that_is_odd_is_warned_of(tmp_path: Path, tank: str, said: str) -> None:
    second = f'{ADULTS}[[racks.tanks]]\nid = "b"\nvolume = 54\n{tank}'
    assert [line.partition(": ")[2] for line in said_of(tmp_path, tank=second)] == [said.partition(": ")[2]]


@pytest.mark.parametrize(
    ("feed", "said"),
    [
        ('kind = "suspension"\n', ['no tank takes "extra": none has the animals it is meant for, or may have it']),
        (
            'kind = "powder"\nlabel = { per = 1 }\n',
            ["the label's amount comes to 60 mg a day for each litre; usual for kind powder is 3"],
        ),
        ('kind = "powder"\nbest_before = 2024-01-01\n', ["2024-01-01 is long past"]),
        ('kind = "powder"\nbest_before = 2026-01-01\n', []),
    ],
)
def test_a_feed_that_is_odd_is_warned_of(tmp_path: Path, feed: str, said: list[str]) -> None:
    found = said_of(tmp_path, feeds=f'{FEEDS}[[feeds]]\nid = "extra"\n{feed}')
    assert [line.split(": ", 2)[2] for line in found] == said


def test_ids_that_differ_by_capital_letters_only_are_warned_of(tmp_path: Path) -> None:
    found = said_of(tmp_path, tank=f'{ADULTS}[[racks.tanks]]\nid = "Moss"\n{ADULTS}')
    assert found == ['16: racks[left].tanks[Moss].id: "Moss" differs from "moss" in capital letters only']


def test_days_off_of_another_year_are_warned_of(tmp_path: Path) -> None:
    found = said_of(tmp_path, top='keepers = [{ name = "Ada", days_off = [2024-12-24, 2024-12-31] }]\n')
    assert found == ["3: keepers[1].days_off: the last date of these is long past: 2024-12-31"]


@pytest.mark.parametrize("known", [True, False])
def test_a_new_room_file_is_warned_of_nothing(tmp_path: Path, known: bool) -> None:
    path = tmp_path / "room.toml"
    path.write_text(starter_text(StarterAnswers(known=known)), encoding="utf-8")
    assert warnings_of(path, load_room(path), TODAY) == []


@pytest.mark.parametrize("room", ROOMS)
def test_an_invented_room_is_warned_of_for_what_it_shows_only(room: str) -> None:
    path = room_path(room)
    found = warnings_of(path, load_room_text(path.read_text(encoding="utf-8"), room), TODAY)
    assert all("quarantine" in line for line in found), found


def test_a_chore_that_no_tank_fits_is_warned_of(tmp_path: Path) -> None:
    chores = 'chores = [{ template = "swap_tools", from = 2026-11-20 }]\n'
    assert said_of(tmp_path, top=chores) == [
        '3: chores[1]: "swap_tools" has no place: no tank fits what it says, so it is never due'
    ]
