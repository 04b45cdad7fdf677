"""Every kind of fault, with its line and its key, what was found and what is allowed."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from zoneinfo import available_timezones

import pytest

from schedules.room_file import Fault, RoomFileFaults, load_room_text
from schedules.room_file.checks import is_time_zone
from schedules.room_file.diagnosis.diagnosis import MOST_FAULTS
from tests.room_file.rooms import faults_of, room_text

POWDER = '[[feeds]]\nid = "dust"\nkind = "powder"\n'


def pieces() -> Iterator[tuple[str, str, list[str]]]:
    """Where each piece of `faults.txt` stands, its text, what is said of it."""
    place = ""
    for block in Path(__file__).with_name("faults.txt").read_text(encoding="utf-8").split("\n\n")[1:]:
        lines = block.strip("\n").split("\n")
        if lines[0].startswith("== "):
            place = lines[0].removeprefix("== ")
            continue
        said = [line.removeprefix("--> ") for line in lines if line.startswith("--> ")]
        yield place, "".join(f"{line}\n" for line in lines[: -len(said)]), said


@pytest.mark.parametrize(("place", "piece", "said"), list(pieces()))
def test_a_faulty_piece_is_refused_with_line_key_found_and_allowed(place: str, piece: str, said: list[str]) -> None:
    match place:
        case "at the top":
            text = room_text(top=piece)
        case "in a feed":
            text = room_text(feeds=POWDER + piece)
        case _:
            text = room_text(tank=f"volume = 54\n{piece}")
    assert faults_of(text) == said


@pytest.mark.parametrize(
    ("zone", "said"),
    [
        ("Europe/Viena", '; did you mean "Europe/Vienna"?'),
        ("europe/vienna", '; did you mean "Europe/Vienna"?'),
        ("Vienna", '; did you mean "Europe/Vienna"?'),
        ("new york", '; did you mean "America/New_York"?'),
        ("../../etc/passwd", ""),
        ("/etc/passwd", ""),
        ("Nowhere at all", ""),
        ("", ""),
    ],
)
def test_a_time_zone_that_is_none_is_refused_with_the_one_that_may_be_meant(zone: str, said: str) -> None:
    text = room_text().replace("Europe/Vienna", zone)
    example = 'allowed is the name of a time zone, as in "Europe/Vienna"'
    assert faults_of(text) == [f'2: time_zone: found "{zone}", {example}{said}']


def test_a_time_zone_of_many_parts_is_no_module_to_import() -> None:
    """The standard library imports the parts of a name one within the other, as deep as they go."""
    (fault,) = faults_of(room_text().replace("Europe/Vienna", ".".join("a" * 600)))
    assert fault.startswith('2: time_zone: found "a.a.')


def test_every_time_zone_there_is_may_be_named() -> None:
    assert [zone for zone in sorted(available_timezones()) if not is_time_zone(zone)] == []


def test_a_part_of_the_world_is_no_time_zone() -> None:
    (said,) = faults_of(room_text().replace("Europe/Vienna", "America"))
    assert said.startswith('2: time_zone: found "America", allowed is the name of a time zone')


def test_what_a_room_cannot_do_without_is_asked_for_where_it_would_stand() -> None:
    assert faults_of("[tools]\n") == [
        "1: feeds: found nothing, allowed is at least one [[feeds]] table",
        "1: name: found nothing, allowed is a text on one line, 1 to 200 characters, no control characters",
        "1: racks: found nothing, allowed is at least one [[racks]] table",
        '1: time_zone: found nothing, allowed is the name of a time zone, as in "Europe/Vienna"',
    ]


@pytest.mark.parametrize("racks", ['[[racks]]\nid = "left"\n', "racks = []\n", 'racks = [{ id = "a", tanks = [] }]\n'])
def test_a_room_without_a_tank_is_refused(racks: str) -> None:
    head = 'name = "a"\ntime_zone = "Etc/UTC"\nfeeds = [{ id = "dust", kind = "powder" }]\n'
    assert faults_of(head + racks) == ["4: racks: found no tank, allowed is a room with at least one [[racks.tanks]]"]


def test_a_room_without_a_feed_is_refused() -> None:
    assert faults_of(room_text(feeds="feeds = []\n")) == [
        "3: feeds: found an empty array, allowed is one that holds something, as in [[feeds]]"
    ]


def test_us_units_have_limits_of_their_own() -> None:
    top, water = 'units = "us"\nhardness = "mg/L"\n', "volume = 10\nwater = { temperature = 24, gh = 1100 }\n"
    assert faults_of(room_text(top=top, tank=water)) == [
        "16: racks[left].tanks[moss].water.gh: "
        'found 1100, allowed is 0 to 1070 mg/L (degrees with hardness = "degrees")',
        '16: racks[left].tanks[moss].water.temperature: found 24, allowed is 32 to 113 °F (°C with units = "metric")',
    ]


def test_every_fault_of_a_file_is_told_at_once_and_by_line() -> None:
    text = """\
name = "Back room"
time_zone = "Europe/Viena"
[[feeds]]
id = "dust"
kind = "powder"
min_gap = 3
max_gap = 2
shair = 0.3
[[feeds]]
id = "pellet"
kind = "stapel"
[[racks]]
id = "left"
[[racks.tanks]]
id = "moss"
volume = 0
overrides.pelet.max_gap = 2
overrides.pellet.max_gap = 300
[[racks.tanks]]
id = "moss"
volume = 54
animals = [{ stage = "adult", count = 3, berried = 4 }, { stage = "adlt", count = -1 }]
"""
    keys = [fault.split(": ", 2)[:2] for fault in faults_of(text)]
    assert keys == [
        ["2", "time_zone"],
        ["6", "feeds[dust].min_gap"],
        ["8", "feeds[dust].shair"],
        ["11", "feeds[pellet].kind"],
        ["16", "racks[left].tanks[moss].volume"],
        ["17", "racks[left].tanks[moss].overrides.pelet"],
        ["18", "racks[left].tanks[moss].overrides.pellet.max_gap"],
        ["20", "racks[left].tanks[moss].id"],
        ["22", "racks[left].tanks[moss].animals[1].berried"],
        ["22", "racks[left].tanks[moss].animals[2].count"],
        ["22", "racks[left].tanks[moss].animals[2].stage"],
    ]


def test_a_faulty_feed_is_not_called_unknown_where_it_is_used() -> None:
    text = room_text(feeds='[[feeds]]\nid = "dust"\nkind = "dusty"\n', tank='volume = 9\nfeeds = ["dust"]\n')
    assert [fault.split(": ")[1] for fault in faults_of(text)] == ["feeds[dust].kind"]


def test_a_fault_can_be_read_as_data() -> None:
    with pytest.raises(RoomFileFaults) as caught:
        load_room_text(room_text(tank="volume = 0\n"), "rooms/back.toml")
    assert caught.value.path == Path("rooms/back.toml")
    volume = 'a volume from 0.1 to 20000 (litres, or US gallons with units = "us")'
    assert caught.value.faults == (Fault(13, "racks[left].tanks[moss].volume", f"found 0, allowed is {volume}"),)


def test_no_more_faults_are_told_than_anybody_reads() -> None:
    said = faults_of("".join(f"key{number} = 1\n" for number in range(2 * MOST_FAULTS)))
    assert len(said) == MOST_FAULTS + 1
    assert f"1: file: found more than {MOST_FAULTS} faults, allowed is none; the rest is left out" in said


def test_a_name_of_a_feed_in_a_fault_stays_on_its_line_whatever_it_holds() -> None:
    text = room_text(tank='volume = 9\n[racks.tanks.overrides."a\\nb\\u001b[31m"]\nmax_gap = 2\n')
    shown = '"a\\u000Ab\\u001B[31m"'
    assert faults_of(text) == [
        f"14: racks[left].tanks[moss].overrides.{shown}: found {shown}, "
        'allowed is a feed of this room: "dust", "pellet"'
    ]
