"""The starter file: whatever is answered, the file it makes is a sound room."""

from __future__ import annotations

import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from schedules.room_file import load_room_text
from schedules.room_file.starter import MOST_RACKS, MOST_TANKS, AnswerFault, StarterAnswers, starter_text

NAMES = st.text(st.characters(exclude_categories=["Cs"]), min_size=1, max_size=200)
ZONES = st.sampled_from(["Europe/Vienna", "America/Chicago", "Etc/UTC", "Asia/Kathmandu"])


@st.composite
def answers(draw: st.DrawFn) -> StarterAnswers | None:
    """Any answers; None where they are refused as they are given."""
    try:
        return StarterAnswers(
            name=draw(NAMES),
            time_zone=draw(ZONES),
            us=draw(st.booleans()),
            hardness_mg_per_litre=draw(st.booleans()),
            keeper=draw(NAMES),
            racks=draw(st.integers(1, 3)),
            tanks_per_rack=draw(st.integers(1, 4)),
            volume=draw(st.floats(1, 5000)),
        )
    except AnswerFault:
        return None


@settings(max_examples=60, deadline=None)
@given(answers())
def test_any_answers_make_a_file_that_is_read_as_it_was_answered(answered: StarterAnswers | None) -> None:
    if answered is None:
        return
    room = load_room_text(starter_text(answered), "room.toml")
    assert (room.name, room.zone.key) == (answered.name, answered.time_zone)
    assert [keeper.name for keeper in room.keepers] == [answered.keeper]
    assert (room.units.us, room.units.hardness_mg_per_litre) == (answered.us, answered.hardness_mg_per_litre)
    assert [len(rack.tanks) for rack in room.racks] == [answered.tanks_per_rack] * answered.racks


def test_without_answers_there_is_a_room_to_start_from() -> None:
    room = load_room_text(starter_text(StarterAnswers()), "room.toml")
    assert len(room.tanks) == 4
    assert {feed.kind for feed in room.feeds.values()} == {"powder", "staple", "protein", "greens"}


@pytest.mark.parametrize("us", [False, True])
def test_the_remarks_on_what_more_a_tank_may_say_are_sound_themselves(us: bool) -> None:
    text = starter_text(StarterAnswers(us=us, hardness_mg_per_litre=us, tanks_per_rack=1))
    start, remarks = text.split("# More that a tank may say")
    head = start.rpartition("animals = ")[0]
    more = re.sub(r"(?m)^# ?", "", remarks.partition("\n")[2])
    tank = load_room_text(head + more, "room.toml").tanks["1-1"]
    assert (tank.name, tank.place, tank.surface, tank.grazing) == ("Moss corner", "top shelf, left", "still", "rich")
    assert tank.water.temperature == pytest.approx(23.5)
    assert tank.water.gh == pytest.approx(7, abs=0.05)
    assert tank.feeds["powder"].max_gap == 2


def test_the_remarks_beside_the_keeper_and_the_feeds_are_sound_themselves() -> None:
    text = starter_text(StarterAnswers())
    for remark in ("days_off", "per_week", "max_gap"):
        text = text.replace(f"\n# {remark}", f"\n{remark}", 1)
    room = load_room_text(text, "room.toml")
    assert len(room.keepers[0].off_dates) == 15
    assert room.chores == ()
    assert room.feeds["protein"].rules.max_gap == 9


def test_the_remarks_on_chores_are_sound_themselves() -> None:
    text = starter_text(StarterAnswers(tanks_per_rack=2))
    for remark in ("[[chores]]", "template", "from"):
        text = text.replace(f"\n# {remark}", f"\n{remark}")
    chores = load_room_text(text, "room.toml").chores
    assert [(chore.id, len(chore.places), chore.every) for chore in chores] == [
        ("top_off", 2, 3),
        ("wipe_front", 2, None),
    ]


@pytest.mark.parametrize(
    ("wrong", "said"),
    [
        ({"name": ""}, 'name: found "", allowed is a text of 1 to 200 characters'),
        ({"name": "a\nb"}, 'name: found "a\\u000Ab", allowed is a text of 1 to 200 characters'),
        ({"keeper": "\ud800"}, 'keeper: found "\\uD800", allowed is a text of 1 to 200 characters'),
        (
            {"time_zone": "Wien"},
            'time zone: found "Wien", allowed is the name of a time zone, as in "Europe/Vienna"',
        ),
        ({"racks": 0}, f"racks: found 0, allowed is a whole number from 1 to {MOST_RACKS}"),
        ({"tanks_per_rack": 51}, f"tanks: found 51, allowed is a whole number from 1 to {MOST_TANKS}"),
        ({"volume": float("nan")}, "volume: found nan, allowed is a volume from 1 to 5000"),
    ],
)
def test_an_answer_that_makes_no_sense_is_refused_at_once(wrong: dict[str, object], said: str) -> None:
    with pytest.raises(AnswerFault) as caught:
        StarterAnswers(**wrong)  # type: ignore[arg-type]
    assert str(caught.value).startswith(said)
