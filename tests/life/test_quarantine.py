"""The quarantine protocol is data of the room, and the keeper reads it where it matters."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import pytest

from schedules.history.life import Life
from schedules.room import Presence, QuarantineRules, Room, Tank
from schedules.session.doubts.animals import Isolation, isolation_of
from schedules.wording.animals.quarantine import lasts_text, quarantine_texts, stop_texts
from tests.life.rooms import DAY, entries, folded, room_of, sighting

ROOM = room_of(Presence("adult", 8, first=DAY - timedelta(days=20)))
RULES = QuarantineRules(28, "no death in two weeks", "blue net")
NOBODY = folded(ROOM, ())


def isolation(days: int | None, day: date = DAY, life: Life = NOBODY, room: Room = ROOM) -> Isolation:
    return isolation_of(tank_of(room, days), life, day)


def tank_of(room: Room, days: int | None) -> Tank:
    return replace(room.tanks["a1"], quarantine=True, quarantine_days=days)


def test_the_days_count_from_the_animals_that_came_last_by_the_file_or_as_seen() -> None:
    bought = folded(ROOM, entries((-6, sighting("added", 3))))
    assert isolation(28).until == DAY + timedelta(days=8)
    assert isolation(28, life=bought).until == DAY + timedelta(days=22)


def test_it_is_over_on_its_last_day_and_not_before() -> None:
    assert [isolation(28, DAY + timedelta(days=days)).over for days in (7, 8, 9)] == [False, True, True]


@pytest.mark.parametrize(
    ("found", "said"),
    [
        (isolation(None), "without an end"),
        (isolation(28), "until Mon 9 Nov (28 days from the last animals that came in, Mon 12 Oct)"),
        (isolation(28, DAY + timedelta(days=30)), "is over since Mon 9 Nov"),
        (isolation(28, room=room_of(Presence("adult", 8))), "is not known"),
    ],
)
def test_how_long_it_lasts_is_said_in_words(found: Isolation, said: str) -> None:
    assert said in lasts_text(found)


def test_what_ends_it_and_its_tools_are_said_in_the_keepers_words() -> None:
    room = replace(ROOM, quarantine=RULES)
    assert list(quarantine_texts(room, isolation(28)))[1:] == [
        "it ends only if: no death in two weeks",
        "walked last; tools that go nowhere else: blue net",
    ]
    asks, lasts = stop_texts(room, isolation(28))
    assert asks == "QUARANTINE: last, with its own tools (blue net); wash hands after"
    assert lasts.startswith("Quarantine until Mon 9 Nov") and lasts.endswith("it ends only if: no death in two weeks")


def test_without_a_protocol_nothing_is_made_up() -> None:
    assert stop_texts(ROOM, isolation(None)) == (
        "QUARANTINE: last, with its own tools; wash hands after",
        "Quarantine without an end: no days are set",
    )
