"""The lines behind an amount, each as a whole: its number, unit and source, how far it may be off, its values.

Numbers are worked out by hand beside each check. A slender shrimp of 20 mm weighs 0.009 x 20³ = 72 mg and needs
0.19 x 72^0.60 = 2.47 mg a day; one of 13 mm 19.8 mg and 1.14 mg; one of 6 mm 1.94 mg and 0.283 mg.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from schedules.amounts.ration import account, account_of_day, ration_steps, share_of
from schedules.amounts.ration.serving import Amount
from schedules.amounts.ration.steps import Step
from schedules.ledger.entries import Reason
from schedules.room import Appetite, Feed, Measure, Presence, Room, Tank, Tools, Water
from tests.amounts.rooms import TODAY, Past, days_ago, due, make_feed, make_room, make_tank

DUST = make_feed("dust", "powder")
WAFER = make_feed("wafer", "staple")
DRIFT = make_feed("drift", "suspension")
LEAF = make_feed("leaf", "greens", extra=True)
FEEDS = (DUST, WAFER, DRIFT, LEAF)
ADULTS, YOUNG = Presence("adult", 38, length=20), Presence("shrimplet", 55, length=6)
TANK = make_tank(
    "a1", FEEDS, water=Water(temperature=14.0), animals=(ADULTS, Presence("juvenile", 20, length=13), YOUNG)
)
SAID_ADULTS = {"count": 38, "stage": "adult"}
SAID_JUVENILES = {"count": 20, "stage": "juvenile"}
SAID_YOUNG = {"count": 55, "stage": "shrimplet"}


def about(value: float) -> object:
    return pytest.approx(value, rel=5e-3)


def test_a_ground_feed_by_heads_warmth_and_grazing() -> None:
    """Below 16 °C the need is that at 16: 2^((16 - 24) / 10) = 0.574. Fair grazing leaves half to be fed."""
    needed = (38 * 2.473 + 20 * 1.139) * 0.5743 * 0.5
    found = [(s.code, s.value, s.unit, s.source, s.times_off, dict(s.values)) for s in ration_steps(TANK, WAFER, TODAY)]
    assert found == [
        ("length", 20, "mm", "length_measured", 0.0, SAID_ADULTS),
        ("mass", about(72.0), "mg", "allometry", 1.7, SAID_ADULTS),
        ("need_each", about(2.473), "mg", "need", 2.0, SAID_ADULTS),
        ("length", 13, "mm", "length_measured", 0.0, SAID_JUVENILES),
        ("mass", about(19.77), "mg", "allometry", 1.7, SAID_JUVENILES),
        ("need_each", about(1.139), "mg", "need", 2.0, SAID_JUVENILES),
        ("warmth", about(0.5743), "", "q10", 1.2, {"celsius": 14.0}),
        ("fed_part", 0.5, "", "grazing", 2.0, {"grazing": "fair"}),
        ("needed", about(needed), "mg", "lines", 0.0, {}),
        ("label", 120.0, "mg", "label", 0.0, {"litres": 40.0, "per_litre": 3.0}),
        ("ration", about(needed), "mg", "lines", 0.0, {"side": "need", "table": "ground"}),
    ]


def test_fine_feed_between_the_waters_floor_and_ceiling() -> None:
    """40 L x 0.3 mg/L is the floor, 40 L x 5 mg/L the ceiling; 55 young need 55 x 0.283 x 0.5 = 7.8 mg at 24 °C."""
    warm = replace(TANK, water=Water())
    found = [(s.code, s.value, s.unit, s.source, s.times_off, dict(s.values)) for s in ration_steps(warm, DUST, TODAY)]
    assert found == [
        ("length", 6, "mm", "length_measured", 0.0, SAID_YOUNG),
        ("mass", about(1.944), "mg", "allometry", 1.7, SAID_YOUNG),
        ("need_each", about(0.2832), "mg", "need", 2.0, SAID_YOUNG),
        ("temperature_unknown", 1.0, "", "common", 0.0, {}),
        ("fed_part", 0.5, "", "grazing", 2.0, {"grazing": "fair"}),
        ("needed", about(55 * 0.2832 * 0.5), "mg", "lines", 0.0, {}),
        ("floor", about(12.0), "mg", "common", 2.0, {"litres": 40.0, "per_litre": 0.3}),
        ("ceiling", 200.0, "mg", "ceiling", 0.0, {"litres": 40.0, "per_litre": 5.0}),
        ("label", 120.0, "mg", "label", 0.0, {"litres": 40.0, "per_litre": 3.0}),
        ("ration", about(12.0), "mg", "lines", 0.0, {"side": "floor", "table": "fine"}),
    ]


@pytest.mark.parametrize(
    ("young", "label", "grazing", "side", "mg"),
    [
        (1000, 3.0, "fair", "label", 120.0),
        (1000, 9.0, "poor", "ceiling", 40.0),
        (1000, 1.0, "poor", "label", 40.0),
        (200, 3.0, "fair", "need", 200 * 0.2832 * 0.5),
    ],
    ids=["label", "ceiling", "both the same", "need"],
)
def test_the_side_that_settles_a_ration(young: int, label: float, grazing: str, side: str, mg: float) -> None:
    feed = make_feed("dust", "powder", label_mg_per_litre=label)
    tank = replace(TANK, water=Water(), grazing=grazing, animals=(replace(YOUNG, count=young),))  # type: ignore[arg-type]
    last = list(ration_steps(tank, feed, TODAY))[-1]
    assert (last.value, last.values["side"]) == (about(mg), side)


def test_the_fans_feed_by_body_mass() -> None:
    """40 mm: the mean of 1.02e-5 x 40^3.2089 and 2.29e-5 x 40^3.0159 g is 1.48 g; one percent of it a day."""
    tank = replace(TANK, water=Water(temperature=24.0), animals=(Presence("filter_feeder", 2, length=40), ADULTS))
    said = {"count": 2, "stage": "filter_feeder"}
    found = [(s.code, s.value, s.unit, s.source, s.times_off, dict(s.values)) for s in ration_steps(tank, DRIFT, TODAY)]
    mass = 1000 * (1.02e-5 * 40**3.2089 + 2.29e-5 * 40**3.0159) / 2
    assert found[:5] == [
        ("length", 40, "mm", "length_measured", 0.0, said),
        ("mass", about(mass), "mg", "atya", 1.5, said),
        ("need_each", about(mass / 100), "mg", "fan_ration", 3.0, said),
        ("warmth", 1.0, "", "q10", 1.2, {"celsius": 24.0}),
        ("needed", about(mass / 50), "mg", "lines", 0.0, {}),
    ]
    assert [line[0] for line in found[5:]] == ["ceiling", "label", "ration"], "no floor for what only fans eat"


def test_the_keepers_own_figures_are_exact_and_from_the_room_file() -> None:
    appetite = Appetite(
        body_mg={"adult": 40.0}, body_percent={"adult": 5.0}, grazed={**Appetite().grazed, "fair": 0.25}, q10=3.0
    )
    tank = replace(TANK, water=Water(temperature=26.0), animals=(Presence("adult", 10),))
    room = replace(make_room(FEEDS, tank), appetite=appetite)
    said = {"count": 10, "stage": "adult"}
    found = [
        (s.code, s.value, s.unit, s.source, s.times_off, dict(s.values)) for s in ration_steps(tank, WAFER, TODAY, room)
    ]
    warmth = 3.0**0.2
    assert found[:5] == [
        ("mass", 40.0, "mg", "room_file", 0.0, said),
        ("need_each", 2.0, "mg", "room_file", 0.0, said),
        ("warmth", about(warmth), "", "room_file", 0.0, {"celsius": 26.0}),
        ("fed_part", 0.75, "", "room_file", 0.0, {"grazing": "fair"}),
        ("needed", about(10 * 2 * warmth * 0.75), "mg", "lines", 0.0, {}),
    ]


def test_a_mass_of_the_keepers_gives_way_to_a_length_that_was_measured() -> None:
    room = replace(make_room(FEEDS, TANK), appetite=Appetite(body_mg={"adult": 40.0}))
    first, second, *_ = ration_steps(replace(TANK, animals=(ADULTS,)), WAFER, TODAY, room)
    assert (first.code, second.value) == ("length", about(72.0))


def test_a_ration_set_by_the_keeper_needs_no_heads_and_an_extra_has_no_ration() -> None:
    tank = replace(TANK, ration_mg=50.0)
    found = list(ration_steps(tank, WAFER, TODAY))
    assert found[0] == Step("needed_by_keeper", 50.0, "mg", "room_file")
    assert [step.code for step in found] == ["needed_by_keeper", "label", "ration"]
    assert list(ration_steps(tank, LEAF, TODAY)) == []


def test_a_tank_with_nobody_at_a_table_has_only_its_zero() -> None:
    alone = replace(TANK, animals=(YOUNG,))
    assert [(step.code, step.value) for step in ration_steps(alone, WAFER, TODAY)] == [
        ("needed", 0.0),
        ("label", 120.0),
        ("ration", 0.0),
    ]


KEEPERS = replace(TANK, ration_mg=100.0)


def tail(tank: Tank, feed: Feed, part: float, room: Room, past: Past | None = None) -> list[Step]:
    """The lines after the ration's own."""
    history = None if past is None else past.history()
    steps = account(tank, feed, part, TODAY, room=room, history=history).steps
    return list(steps[len(list(ration_steps(tank, feed, TODAY, room))) :])


def test_the_part_the_level_and_what_a_hand_can_measure() -> None:
    """Half of 100 mg at half the level is 25 mg; a pellet of 60 mg breaks in halves, so 30 mg are given."""
    feed = make_feed("wafer", "staple", known=False)
    room = replace(make_room((feed,), KEEPERS), tools=Tools())
    steps = tail(KEEPERS, feed, 0.5, room, Past())
    assert steps == [
        Step("part", 0.5, "", "plan"),
        Step("level_new_feed", 0.5, "", "ledger", values={"level": 0.5}),
        Step("asked", 25.0, "mg", "lines"),
        Step("rounded", 5.0, "mg", "measured", values=steps[3].values),
        Step("given", 30.0, "mg", "lines", values={"mixed": False}),
    ]
    assert set(steps[3].values) == {"most"} and 0 < float(steps[3].values["most"]) < 0.5


def test_without_a_ledger_no_level_is_shown_and_an_exact_amount_is_not_rounded() -> None:
    room = make_room((WAFER,), KEEPERS)
    steps = tail(KEEPERS, WAFER, 0.6, room)
    assert steps == [
        Step("part", 0.6, "", "plan"),
        Step("asked", 60.0, "mg", "lines"),
        Step("given", 60.0, "mg", "lines", values={"mixed": False}),
    ]


def test_less_than_the_smallest_part_is_that_part_and_the_line_says_so() -> None:
    whole_only = make_feed("wafer", "staple", measure=Measure("pellet", 60.0, 1.0))
    steps = tail(KEEPERS, whole_only, 0.1, make_room((whole_only,), KEEPERS))
    assert [step.code for step in steps] == ["part", "asked", "note_smallest_part", "rounded", "given"]
    assert (steps[2].value, steps[2].unit, steps[2].source) == (60.0, "mg", "measured")
    assert steps[3].value == pytest.approx(50.0)


def test_an_extra_is_by_the_label_alone() -> None:
    steps = account(TANK, LEAF, 1.0, TODAY).steps
    assert [(step.code, step.value, step.unit, step.source) for step in steps[:1]] == [("extra", 120.0, "mg", "label")]
    assert steps[-1].value == 120.0


def test_the_lines_of_a_day_begin_at_the_part_before_the_level() -> None:
    """Posted was half of 0.6; where nothing is due, the most that a serving may take stands for it."""
    feed = make_feed("wafer", "staple", known=False)
    tank = replace(KEEPERS, feeds={"wafer": feed.rules})
    room = make_room((feed,), tank)
    past = Past().posted(TODAY, (due("a1", feed, 0.3, 30),))
    shown = account_of_day(room, past.history(), tank, feed, TODAY)
    assert [step.value for step in shown.steps if step.code == "part"] == [pytest.approx(0.6)]
    assert shown.amount.mg == 30
    none = account_of_day(room, Past().gave("a2", feed, days_ago(3), 0.1).history(), tank, feed, TODAY)
    assert [step.value for step in none.steps if step.code == "part"] == [feed.rules.most]


def test_a_tank_with_nobody_at_the_table_gets_nothing_and_the_line_says_why() -> None:
    alone = replace(TANK, animals=(YOUNG,))
    shown = account(alone, WAFER, 0.6, TODAY)
    assert shown.amount == Amount(0.0, "pellet", 0.0, 0.0, note=Reason("nobody"))
    assert [(step.code, step.value) for step in shown.steps[-2:]] == [("note_nobody", 0.0), ("given", 0.0)]


def test_parts_and_lines_follow_what_the_room_says_of_appetite() -> None:
    """Ten adults of 40 mg that eat 5 percent of it need 20 mg where nothing is found grazing."""
    tank = replace(TANK, water=Water(), animals=(Presence("adult", 10),))
    appetite = Appetite(body_mg={"adult": 40.0}, body_percent={"adult": 5.0}, grazed={**Appetite().grazed, "fair": 0.0})
    room = replace(make_room(FEEDS, tank), appetite=appetite)
    assert share_of(tank, WAFER, 10.0, TODAY, room) == pytest.approx(0.5)
    shown = account_of_day(room, Past().history(), tank, WAFER, TODAY)
    assert [step.value for step in shown.steps if step.code == "ration"] == [pytest.approx(20.0)]
