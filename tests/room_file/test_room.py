"""What a room file without faults comes to: defaults, units, references, overrides."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, time
from math import isclose

import pytest

from schedules.room import Appetite, Keeper, Presence, QuarantineRules, RoundTime, Tools, Units, Vessel, Water
from schedules.room.clocks import DEFAULT_CLOCKS, OWN_CLOCK_OVERDUE
from schedules.room.kinds import KIND_DEFAULTS, KINDS, Kind
from schedules.room_file import load_room_text
from tests.room_file.rooms import FIRST_ROOM, room_of


def test_a_first_room_file_is_twenty_lines_long_and_complete() -> None:
    room = load_room_text(FIRST_ROOM, "room.toml")
    assert FIRST_ROOM.count("\n") <= 20
    assert room.name == "Back room"
    assert room.zone.key == "Europe/Vienna"
    assert room.units == Units(us=False, hardness_mg_per_litre=False)
    assert room.keepers == ()
    assert room.rounds == (RoundTime("morning", time(7, 0)),)
    assert room.clocks == DEFAULT_CLOCKS
    assert room.walk == ("moss",)
    assert room.appetite == Appetite()
    assert room.tools == Tools()
    tank = room.tanks["moss"]
    assert (tank.name, tank.rack, tank.place, tank.litres) == ("moss", "left", "", 54)
    assert (tank.surface, tank.grazing, tank.rest_weekday, tank.quarantine) == ("rippled", "fair", None, False)
    assert tank.animals == (Presence("adult", 30), Presence("shrimplet", 40))
    assert tank.feeds == {feed.id: feed.rules for feed in room.feeds.values()}


@pytest.mark.parametrize("kind", KINDS)
def test_a_feed_of_which_only_the_kind_is_said_is_what_is_usual_for_its_kind(kind: Kind) -> None:
    feed = room_of(feeds=f'[[feeds]]\nid = "x"\nkind = "{kind}"\n').feeds["x"]
    usual = KIND_DEFAULTS[kind]
    assert (feed.name, feed.kind, feed.stages) == ("x", kind, frozenset(usual.stages))
    assert (feed.round, feed.best_before) == ("morning", None)
    assert (feed.extra, feed.known, feed.may_be_ground, feed.wet_hours) == (False, False, False, None)
    assert feed.draws == (kind in ("staple", "protein"))
    assert (feed.measure.name, feed.measure.mg, feed.measure.step) == (
        usual.measure_name,
        usual.measure_mg,
        usual.measure_step,
    )
    assert feed.protein == usual.protein
    assert feed.label_mg_per_litre == usual.measure_mg / usual.label_litres_per_measure
    rules = feed.rules
    assert (rules.min_gap, rules.max_gap, rules.per_week) == (1, None, None)
    assert (rules.share, rules.most, rules.minutes, rules.method) == (
        *(usual.share, usual.most),
        *(usual.minutes, usual.method),
    )
    assert (rules.gone_after_hours, rules.even_on_days_off) == (usual.gone_after_hours, usual.even_on_days_off)


def test_everything_that_can_be_said_of_a_feed_is_kept() -> None:
    feed = room_of(
        top="""\
[[rounds]]
id = "late"
at = "19:30"
[[rounds]]
id = "early"
at = 06:00:00
""",
        feeds="""\
[[feeds]]
id = "x"
name = "Ground [nettle] 🦐"
kind = "staple"
stages = ["adult", "filter_feeder"]
round = "late"
measure = { name = "pinch", mg = 25.5, step = 0.25 }
protein = 38
label = { measures = 2, per = 40 }
best_before = 2027-05-01
min_gap = 2
max_gap = 6
per_week = 2.5
share = 0.4
most = 0.9
minutes = 0
method = "surface"
gone_after_hours = 2
even_on_days_off = true
draws = false
known = true
breaks = "quarter"
may_be_ground = true
wet_hours = 24
""",
    ).feeds["x"]
    assert feed.name == "Ground [nettle] 🦐"
    assert feed.stages == {"adult", "filter_feeder"}
    assert feed.round == "late"
    assert (feed.draws, feed.known, feed.breaks, feed.may_be_ground, feed.wet_hours) == (
        *(False, True, "quarter"),
        *(True, 24),
    )
    assert (feed.measure.name, feed.measure.mg, feed.measure.step) == ("pinch", 25.5, 0.25)
    assert feed.protein == 0.38
    assert feed.label_mg_per_litre == 2 * 25.5 / 40
    assert feed.best_before == date(2027, 5, 1)
    rules = feed.rules
    assert (rules.min_gap, rules.max_gap, rules.per_week, rules.share, rules.most) == (2, 6, 2.5, 0.4, 0.9)
    assert (rules.minutes, rules.method, rules.gone_after_hours, rules.even_on_days_off) == (0, "surface", 2, True)


def test_the_label_of_a_kind_holds_whatever_the_keepers_own_measure_weighs() -> None:
    usual = room_of(feeds='[[feeds]]\nid = "x"\nkind = "staple"\n').feeds["x"]
    large = room_of(feeds='[[feeds]]\nid = "x"\nkind = "staple"\nmeasure = { mg = 500 }\n').feeds["x"]
    assert large.measure.mg == 500
    assert large.label_mg_per_litre == usual.label_mg_per_litre


def test_an_extra_takes_nothing_of_the_ration_and_draws_nobody() -> None:
    leaf = room_of(feeds='[[feeds]]\nid = "x"\nkind = "staple"\nextra = true\n').feeds["x"]
    assert (leaf.extra, leaf.draws, leaf.rules.share, leaf.rules.most) == (True, False, 0, 0)


@pytest.mark.parametrize(("breaks", "step"), [("whole", 1), ("half", 0.5), ("quarter", 0.25), ("crumb", 0.1)])
def test_how_a_piece_breaks_says_the_smallest_part_and_the_other_way_round(breaks: str, step: float) -> None:
    feeds = '[[feeds]]\nid = "x"\nkind = "staple"\n'
    assert room_of(feeds=f'{feeds}breaks = "{breaks}"\n').feeds["x"].measure.step == step
    assert room_of(feeds=f"{feeds}measure = {{ step = {step} }}\n").feeds["x"].breaks == breaks


def test_a_clock_is_set_for_the_room_and_for_a_tank_beside_it() -> None:
    room = room_of(
        top='[clocks.fine]\nper_week = 6\n[clocks.staple]\nmax_gap = 4\n[clocks.fan]\nmax_gap = "none"\n',
        tank="volume = 54\nclocks.fine.max_gap = 3\nclocks.staple.min_gap = 3\n",
    )
    usual = DEFAULT_CLOCKS["fine"]
    assert room.clocks["fine"] == replace(usual, per_week=6)
    assert room.clocks["staple"].overdue == OWN_CLOCK_OVERDUE
    assert (room.clocks["fan"].max_gap, room.clocks["fan"].overdue, room.clocks["fan"].per_week) == (None, None, 3)
    assert room.clocks["ground"] == DEFAULT_CLOCKS["ground"]
    tank = room.tanks["moss"]
    assert tank.clocks["fine"] == replace(usual, per_week=6, max_gap=3)
    assert (tank.clocks["staple"].min_gap, tank.clocks["staple"].min_gap_falls) == (3, False)
    assert set(tank.clocks) == {"fine", "staple"}


def test_a_clock_with_fewer_days_a_week_waits_longer_unless_its_longest_gap_is_set_too() -> None:
    assert room_of(top="clocks.fan.per_week = 2\n").clocks["fan"].max_gap == 4
    assert room_of(top="clocks.fan = { per_week = 2, max_gap = 3 }\n").clocks["fan"].max_gap == 3
    assert room_of(top="clocks.fan.per_week = 6\n").clocks["fan"].max_gap == 3


def test_animals_may_say_their_length_and_when_they_hatched() -> None:
    room = room_of(
        tank="""volume = 54
animals = [
    { stage = "shrimplet", count = 30, length = 6, hatched = 2026-11-10, from = 2026-11-12 },
    { stage = "shrimplet", count = 9, from = 2026-11-20 },
    { stage = "adult", count = 9, from = 2026-11-20 },
]
"""
    )
    hatched, first_seen, adults = room.tanks["moss"].animals
    assert (hatched.length, hatched.hatch_day) == (6, date(2026, 11, 10))
    assert first_seen.hatch_day == date(2026, 11, 20)
    assert adults.hatch_day is None


def test_the_tools_say_how_mixes_are_dosed_and_whether_there_are_milligrams_at_all() -> None:
    tools = room_of(top="[tools]\nplain = true\nadults_per_piece = 15\ndoses_ml = [5, 2.5]\ncup_above_ml = 50\n").tools
    assert (tools.plain, tools.adults_per_piece, tools.doses_ml, tools.cup_above_ml) == (True, 15, (2.5, 5), 50)


def test_rounds_are_walked_in_the_order_of_their_times_and_feeds_go_into_the_first() -> None:
    room = room_of(top='[[rounds]]\nid = "late"\nat = 18:00:00\n[[rounds]]\nid = "early"\nat = "6:30"\n')
    assert room.rounds == (RoundTime("early", time(6, 30)), RoundTime("late", time(18, 0)))
    assert {feed.round for feed in room.feeds.values()} == {"early"}


def test_us_units_are_settled_on_reading() -> None:
    room = room_of(
        top='units = "us"\nhardness = "mg/L"\n[appetite]\ntemperature = 77\n',
        feeds='[[feeds]]\nid = "x"\nkind = "powder"\nmeasure = { mg = 100 }\nlabel = { per = 10 }\n',
        tank="volume = 20\nwater = { temperature = 77, ph = 7.2, gh = 178.48, kh = 35.696, tds = 210 }\n",
    )
    tank, water = room.tanks["moss"], room.tanks["moss"].water
    assert room.units == Units(us=True, hardness_mg_per_litre=True)
    assert isclose(tank.litres, 75.70823568)
    assert water.temperature == 25
    assert water.gh == pytest.approx(10)
    assert water.kh == pytest.approx(2)
    assert (water.ph, water.tds) == (7.2, 210)
    assert isclose(room.feeds["x"].label_mg_per_litre, 100 / 37.85411784)
    assert room.appetite.celsius == 25


def test_metric_values_are_kept_as_written() -> None:
    room = room_of(tank="volume = 54\nwater = { temperature = 24.5, ph = 7, gh = 6, kh = 3 }\n")
    assert room.tanks["moss"].litres == 54
    assert room.tanks["moss"].water == Water(24.5, 7, 6, 3, None)


def test_everything_that_can_be_said_of_a_tank_is_kept() -> None:
    room = room_of(
        tank="""\
name = "Moss corner"
place = "top, left"
volume = 54.5
surface = "still"
grazing = "rich"
rest = "Sunday"
quarantine = true
line = "dark red"
generation = 0
ration_mg = 40
animals = [
    { stage = "adult", count = 20, berried = 3 },
    { stage = "shrimplet", count = 35, from = 2026-11-20, to = 2026-12-31 },
    { stage = "shrimplet", count = 10, from = 2026-12-01 },
]
"""
    )
    tank = room.tanks["moss"]
    assert (tank.name, tank.place, tank.litres) == ("Moss corner", "top, left", 54.5)
    assert (tank.surface, tank.grazing, tank.rest_weekday, tank.quarantine) == ("still", "rich", 6, True)
    assert tank.ration_mg == 40
    assert (tank.line, tank.generation) == ("dark red", 0)
    assert tank.animals == (
        Presence("adult", 20, 3),
        Presence("shrimplet", 35, 0, date(2026, 11, 20), date(2026, 12, 31)),
        Presence("shrimplet", 10, 0, date(2026, 12, 1), None),
    )
    assert tank.count("shrimplet", date(2026, 12, 5)) == 45


def test_an_override_changes_what_it_says_and_nothing_else() -> None:
    room = room_of(tank="volume = 54\noverrides.dust = { max_gap = 2, share = 0.2 }\n")
    rules, usual = room.tanks["moss"].feeds["dust"], room.feeds["dust"].rules
    assert (rules.max_gap, rules.share) == (2, 0.2)
    assert (rules.min_gap, rules.per_week, rules.method) == (usual.min_gap, usual.per_week, usual.method)
    assert room.feeds["dust"].rules == usual


def test_a_tank_may_do_without_a_feed_or_name_the_only_ones() -> None:
    assert set(room_of(tank="volume = 54\noverrides.dust.use = false\n").tanks["moss"].feeds) == {"pellet"}
    assert set(room_of(tank='volume = 54\nfeeds = ["dust"]\n').tanks["moss"].feeds) == {"dust"}
    assert not room_of(tank="volume = 54\nfeeds = []\n").tanks["moss"].feeds


def test_feeds_of_a_tank_stand_in_the_order_of_the_stock() -> None:
    assert list(room_of(tank='volume = 54\nfeeds = ["pellet", "dust"]\n').tanks["moss"].feeds) == ["dust", "pellet"]


def test_quarantine_is_walked_last_and_the_rest_as_written() -> None:
    room = room_of(tank='volume = 9\nquarantine = true\n[[racks.tanks]]\nid = "b"\nvolume = 9\n')
    assert room.walk == ("b", "moss")


def test_keepers_are_names_or_tables_with_days_off() -> None:
    assert room_of(top='keepers = ["Ada", "Bo"]\n').keepers == (Keeper("Ada"), Keeper("Bo"))
    room = room_of(
        top="""\
[[keepers]]
name = "Ada"
days_off = ["Sunday", "monday", 2026-12-24, { from = 2026-12-30, to = 2027-01-01 }]
off_rules = ["FREQ=WEEKLY;INTERVAL=2;BYDAY=SA"]
off_from = 2026-11-28
"""
    )
    dates = (date(2026, 12, 24), date(2026, 12, 30), date(2026, 12, 31), date(2027, 1, 1))
    rules = ("FREQ=WEEKLY;INTERVAL=2;BYDAY=SA",)
    assert room.keepers == (Keeper("Ada", frozenset((6, 0)), frozenset(dates), rules, date(2026, 11, 28)),)


def test_the_rooms_quarantine_protocol_holds_for_each_quarantine_tank_that_says_nothing_else() -> None:
    room = room_of(
        top='[quarantine]\ndays = 28\nends = "no death in two weeks"\ntools = "blue net"\n',
        tank="volume = 9\nquarantine = true\nquarantine_days = 40\n"
        '[[racks.tanks]]\nid = "b"\nvolume = 9\nquarantine = true\n[[racks.tanks]]\nid = "c"\nvolume = 9\n',
    )
    assert room.quarantine == QuarantineRules(28, "no death in two weeks", "blue net")
    assert {tank.id: tank.quarantine_days for tank in room.tanks.values()} == {"moss": 40, "b": 28, "c": None}


def test_appetite_and_tools_take_what_the_keeper_knows_better() -> None:
    room = room_of(
        top="""\
[appetite]
body_mg = { adult = 44 }
grazed = { rich = 0.6 }
fine_least = 0.2
fine_most = { poor = 2 }
q10 = 1.8
[tools]
scale_mg = 1
syringes = [{ ml = 10, mark_ml = 0.2 }, { ml = 3, mark_ml = 0.1 }]
cups = []
error = 0.05
"""
    )
    usual = Appetite()
    assert room.appetite.body_mg == {**usual.body_mg, "adult": 44}
    assert room.appetite.body_percent == usual.body_percent
    assert room.appetite.grazed == {**usual.grazed, "rich": 0.6}
    assert room.appetite.fine_least == 0.2
    assert room.appetite.fine_most == {**usual.fine_most, "poor": 2}
    assert (room.appetite.q10, room.appetite.celsius) == (1.8, usual.celsius)
    assert room.tools.syringes == (Vessel(3, 0.1), Vessel(10, 0.2))
    assert (room.tools.cups, room.tools.scale_mg, room.tools.error) == ((), 1, 0.05)
    assert room.tools.jug_ml == Tools().jug_ml


def test_a_keeper_may_have_no_scale() -> None:
    assert room_of(top='[tools]\nscale_mg = "none"\n').tools.scale_mg is None


@pytest.mark.parametrize("name", ["[/A]", "Tank [A1] \\", "🦐" * 200, "حوض ١", "👩‍🔬 לימון", "a" * 200, "%s {0} $x"])
def test_a_name_may_hold_any_letters_that_stay_on_their_line(name: str) -> None:
    assert room_of(tank=f"volume = 9\nname = '{name}'\n").tanks["moss"].name == name


def test_tables_in_braces_and_windows_line_ends_make_no_difference() -> None:
    short = """\
name = "Back room"
time_zone = "Europe/Vienna"
feeds = [{ id = "dust", kind = "powder" }, { id = "pellet", kind = "staple" }]
[[racks]]
id = "left"
tanks = [
  { id = "moss", volume = 54, animals = [{ stage = "adult", count = 30 }, { stage = "shrimplet", count = 40 }] },
]
"""
    assert load_room_text(short, "a") == load_room_text(FIRST_ROOM, "b")
    assert load_room_text(FIRST_ROOM.replace("\n", "\r\n"), "a") == load_room_text(FIRST_ROOM, "b")


def test_known_words_may_have_capital_letters() -> None:
    room = room_of(
        top='units = "Metric"\nhardness = "MG/L"\nclocks.fan = { per_week = "None" }\n',
        feeds='[[feeds]]\nid = "dust"\nkind = "Powder"\nstages = ["Shrimplet"]\nmethod = "PreMixed"\n',
        tank='volume = 54\nsurface = "Still"\nrest = "Sunday"\nanimals = [{ stage = "Adult", count = 3 }]\n',
    )
    assert room.feeds["dust"].kind == "powder"
    assert room.feeds["dust"].stages == frozenset({"shrimplet"})
    assert room.tanks["moss"].surface == "still"
    assert room.tanks["moss"].animals[0].stage == "adult"
    assert room.clocks["fan"].per_week is None


def test_bands_are_settled_on_reading_and_a_tanks_own_keys_go_before_the_rooms() -> None:
    room = room_of(
        top='units = "us"\nhardness = "mg/L"\n[water]\nread = ["tds", "temperature", "tds"]\ntds_factor = 0.64\n'
        "compensated = false\n[water.bands]\ntemperature = { low = 68, high = 77, daily = 3.6 }\n"
        "kh = { highest = 178.48, daily = 17.848 }\n",
        tank="volume = 20\nbands = { temperature = { high = 75.2 } }\n",
    )
    assert room.water.read == ("tds", "temperature")
    assert (room.water.tds_factor, room.water.compensated) == (0.64, False)
    band = room.water.bands["temperature"]
    assert [band.low, band.high, band.daily] == pytest.approx([20, 25, 2])
    assert room.water.bands["kh"].highest == pytest.approx(10)
    assert room.water.bands["kh"].daily == pytest.approx(1)
    own = room.tanks["moss"].bands["temperature"]
    assert [own.low, own.high] == pytest.approx([20, 24])
    assert room.tanks["moss"].bands["kh"] == room.water.bands["kh"]
