"""Deaths raise a flag by themselves: three in a tank within a week, or some in two tanks of a rack."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest

from schedules.ledger import Sighting
from schedules.review.flags import Flag, flags
from schedules.room import Rack
from schedules.wording.flags import advice_text, evidence_text
from tests.amounts.rooms import TODAY, Past, at, days_ago, make_feed, make_room, make_tank
from tests.tui.rooms import make_session

DUST = make_feed("dust", "powder")
ROOM = make_room((DUST,), *(make_tank(tank, (DUST,)) for tank in ("a1", "a2", "a3")))


def died(*deaths: tuple[str, date, int]) -> Past:
    past = Past()
    for tank, day, heads in deaths:
        past.write(Sighting(tank, "dead", "adult", heads, True), day)
    return past


def of_deaths(past: Past) -> list[Flag]:
    return [flag for flag in flags(ROOM, past.history(), at(TODAY)) if flag.advice == "look_what_changed"]


def test_three_dead_in_a_tank_within_a_week_are_flagged_high_with_each_death_and_what_to_do() -> None:
    found = of_deaths(died(("a1", days_ago(6), 2), ("a1", TODAY, 1)))

    assert [(flag.kind, flag.tank, flag.severity, flag.day) for flag in found] == [("deaths", "a1", "high", TODAY)]
    assert evidence_text(ROOM, found[0]) == ("3 found dead within 7 days: 2 adults (Thu 19 Nov); 1 adult (Wed 25 Nov)")
    assert "test the water" in advice_text(ROOM, found[0])
    assert "do not feed more" in advice_text(ROOM, found[0])


@pytest.mark.parametrize(
    "past",
    [
        died(("a1", days_ago(1), 1), ("a1", TODAY, 1)),
        died(("a1", days_ago(7), 2), ("a1", TODAY, 1)),
        died(("a1", days_ago(9), 3)),
        died(("a1", days_ago(7), 1), ("a2", TODAY, 1)),
    ],
    ids=["two only", "eight days", "over for more than a week", "two tanks, eight days"],
)
def test_fewer_or_further_apart_or_long_over_is_no_flag(past: Past) -> None:
    assert of_deaths(past) == []


def test_deaths_in_two_tanks_of_a_rack_within_a_week_flag_both_and_each_names_the_other() -> None:
    found = of_deaths(died(("a1", days_ago(3), 1), ("a2", TODAY, 1)))

    assert [(flag.kind, flag.tank, flag.day) for flag in found] == [
        ("deaths_in_rack", "a1", TODAY),
        ("deaths_in_rack", "a2", TODAY),
    ]
    assert (
        evidence_text(ROOM, found[0]) == "2 found dead within 4 days: 1 adult (Sun 22 Nov); 1 adult in a2 (Wed 25 Nov)"
    )


def test_deaths_in_tanks_of_two_racks_are_each_for_itself() -> None:
    other = replace(ROOM.tanks["a2"], rack="other")
    racks = (replace(ROOM.racks[0], tanks=("a1", "a3")), Rack("other", "Other", ("a2",)))
    room = replace(ROOM, racks=racks, tanks={**ROOM.tanks, "a2": other})
    past = died(("a1", days_ago(1), 1), ("a2", TODAY, 1))

    assert not [flag for flag in flags(room, past.history(), at(TODAY)) if flag.advice == "look_what_changed"]


def test_a_tank_looked_at_by_itself_has_the_same_flags() -> None:
    past = died(("a1", days_ago(3), 1), ("a2", TODAY, 4))
    alone = [each for tank in ROOM.tanks for each in flags(ROOM.only(tank), past.history(), at(TODAY))]

    assert {flag.key for flag in alone} == {flag.key for flag in flags(ROOM, past.history(), at(TODAY))}
    assert {flag.kind for flag in of_deaths(past)} == {"deaths", "deaths_in_rack"}


def test_a_death_flags_the_other_tank_of_the_rack_at_once_and_its_undo_takes_that_back(tmp_path: Path) -> None:
    session = make_session(tmp_path)
    session.saw(Sighting("a1", "dead", "adult", 1, True))
    before = session.flags()
    session.saw(Sighting("b2", "dead", "adult", 1, True))

    raised = {(flag.tank, flag.kind) for flag in set(session.flags()) - set(before)}
    assert raised == {("a1", "deaths_in_rack"), ("b2", "deaths_in_rack")}

    session.undo()
    assert session.flags() == before
