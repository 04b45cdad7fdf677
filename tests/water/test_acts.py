"""What is read and poured in: recorded, questioned where it looks like a slip, taken back like every act."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from demo_racks import room_path
from schedules.history import history_of, refresh
from schedules.ledger import Reading, SaltAdded, Undone, WaterAdded, WaterChanged
from schedules.ledger.stores.memory import MemoryLedger
from schedules.room import Room, Units, Water
from schedules.room.water.quantities import QUANTITIES, Quantity, from_keeper, to_keeper, value_text
from schedules.room_file import load_room
from schedules.session.doubts.water import WaterDoubt
from schedules.session.session import Session
from schedules.water.readings import daily, latest, series, water_acts
from schedules.wording.outcomes import outcome_text

MORNING = datetime(2026, 11, 25, 6, 30, tzinfo=UTC)
TODAY = date(2026, 11, 25)
YESTERDAY = TODAY - timedelta(days=1)
METRIC, UNREAD = Units(), Water()


def room_with(tank: str, water: Water, units: Units = METRIC) -> Room:
    room = load_room(room_path("first_rack"))
    tanks = {**room.tanks, tank: replace(room.tanks[tank], water=water)}
    return replace(room, tanks=tanks, units=units)


def session_with(water: Water = UNREAD, units: Units = METRIC) -> tuple[Session, str]:
    tank = load_room(room_path("first_rack")).walk[0]
    return Session(room_with(tank, water, units), MemoryLedger(), lambda: MORNING, "Ana", posts="nothing"), tank


def test_several_quantities_read_in_one_go_are_one_act_and_one_undo_takes_all_of_them_back() -> None:
    session, tank = session_with()
    outcome = session.read_water(tank, {"tds": 180, "temperature": 24.5})
    assert outcome.done
    assert outcome_text(session.room, outcome) == f"{tank}: temperature 24.5 °C, TDS 180 mg/L"
    assert [value.value for value in series(session.history, tank, "tds")] == [180]
    assert session.undo().done
    assert series(session.history, tank, "tds") == series(session.history, tank, "temperature") == ()


def test_water_poured_in_changed_and_salted_is_recorded_and_taken_back() -> None:
    session, tank = session_with()
    assert session.add_water(tank, 2).done
    assert session.change_water(tank, 5, "mixed").done
    assert session.add_salt(tank, "gh-salt", 1.5).done
    whats = [entry.what for entry in water_acts(session.history, tank)]
    assert whats == [WaterAdded(tank, 2), WaterChanged(tank, 5, "mixed"), SaltAdded(tank, "gh-salt", 1.5)]
    session.undo()
    assert [entry.what for entry in water_acts(session.history, tank)] == whats[:2]


@pytest.mark.parametrize(
    ("quantity", "typed", "kind", "meant"),
    [
        ("ph", 70, "beyond", 7.0),
        ("temperature", 2.35, "point", 23.5),
        ("temperature", 75, "beyond", 23.888888888888889),
        ("tds", 1800, "point", 180),
        ("gh", 107, "unit", 107 / 17.848),
        ("kh", 53.5, "unit", 53.5 / 17.848),
        ("conductivity", 0.28, "unit", 280),
        ("temperature", 34, "far_from_last", None),
        ("nitrate", 800, "point", 80),
    ],
)
def test_a_slip_of_the_hand_is_questioned_with_what_may_be_meant(
    quantity: Quantity, typed: float, kind: str, meant: float | None
) -> None:
    session, tank = session_with(Water(temperature=23.0, ph=6.8, gh=6.0, kh=3.0, tds=175))
    outcome = session.read_water(tank, {quantity: typed})
    assert outcome.result == "refused"
    assert isinstance(outcome.doubt, WaterDoubt)
    assert outcome.doubt.kind == kind
    assert outcome.doubt.meant == (None if meant is None else pytest.approx(meant))
    assert series(session.history, tank, quantity) == ()


def test_the_keeper_can_insist_on_a_doubted_value_but_not_on_one_that_cannot_be() -> None:
    session, tank = session_with(Water(tds=175))
    assert session.read_water(tank, {"tds": 1800}, anyway=True).done
    told = session.read_water(tank, {"ph": 70}, anyway=True)
    assert told.result == "cannot_be_written"
    assert told.fault == f"{tank}: value: found 70, allowed is a pH from 0 to 14"


def test_ten_times_yesterdays_dissolved_solids_are_questioned_and_a_fifth_more_is_not() -> None:
    session, tank = session_with()
    assert session.read_water(tank, {"tds": 140}, day=YESTERDAY).done
    refused = session.read_water(tank, {"tds": 1400})
    assert "the point may be in the wrong place, 140 mg/L yesterday; 140 mg/L may be meant" in outcome_text(
        session.room, refused
    )
    assert session.read_water(tank, {"tds": 168}).done


def test_in_a_room_of_fahrenheit_the_lost_point_is_that_of_fahrenheit() -> None:
    session, tank = session_with(Water(temperature=23.0), Units(us=True))
    refused = session.read_water(tank, {"temperature": from_keeper("temperature", 7.5, session.room.units)})
    assert "75 °F may be meant" in outcome_text(session.room, refused)


def test_a_reading_of_a_day_to_come_and_more_water_than_the_tank_holds_are_questioned() -> None:
    session, tank = session_with()
    litres = session.room.tanks[tank].litres
    ahead = session.read_water(tank, {"tds": 180}, day=TODAY + timedelta(days=1))
    much = session.change_water(tank, litres + 1)
    salt = session.add_salt(tank, "gh-salt", litres * 6)
    for outcome in (ahead, much, salt):
        assert outcome.result == "refused"
    assert "lies ahead" in outcome_text(session.room, ahead)
    assert session.change_water(tank, litres).done


def test_too_much_water_is_questioned_also_where_a_salt_goes_in_with_it_and_too_much_of_any_salt() -> None:
    session, tank = session_with()
    litres = session.room.tanks[tank].litres
    much = session.pour(tank, [(None, litres)], [("gh-salt", 1.0)])
    first = session.pour(tank, [(None, 1)], [("gh-salt", litres * 6), ("kh-salt", 1.0)])
    second = session.pour(tank, [(None, 1)], [("kh-salt", 1.0), ("gh-salt", litres * 6)])
    doubts = [outcome.doubt for outcome in (much, first, second)]
    assert [isinstance(doubt, WaterDoubt) and doubt.kind for doubt in doubts] == [
        "more_than_tank",
        "much_salt",
        "much_salt",
    ]
    assert water_acts(session.history, tank) == ()


def test_the_latest_reading_goes_before_the_room_files_and_the_time_of_day_before_the_order_of_writing() -> None:
    session, tank = session_with(Water(tds=175))
    there = session.room.tanks[tank]
    first = latest(session.history, there, "tds")
    assert first is not None
    assert (first.value, first.day) == (175, None)
    session.read_water(tank, {"tds": 190}, day=YESTERDAY, time="20:00")
    session.read_water(tank, {"tds": 186}, day=YESTERDAY, time="08:00")
    assert [value.value for value in series(session.history, tank, "tds")] == [186, 190]
    assert [value.value for value in daily(series(session.history, tank, "tds"))] == [190]
    newest = latest(session.history, there, "tds")
    assert newest is not None
    assert (newest.value, newest.day) == (190, YESTERDAY)


@given(
    st.sampled_from(tuple(QUANTITIES)),
    st.floats(0, 400).map(lambda value: round(value, 1)),
    st.booleans(),
    st.booleans(),
)
def test_a_reading_in_any_unit_comes_back_as_it_was_typed(
    quantity: Quantity, typed: float, us: bool, mg_per_litre: bool
) -> None:
    units = Units(us, mg_per_litre)
    kept = from_keeper(quantity, typed, units)
    assert to_keeper(quantity, kept, units) == pytest.approx(typed, abs=1e-9)
    whole = quantity in ("tds", "conductivity") or (mg_per_litre and quantity in ("gh", "kh"))
    shown = value_text(quantity, kept, units).split(" ")[0]
    assert float(shown) == pytest.approx(typed, abs=0.5 + 1e-9 if whole else 1e-9)


days = st.integers(0, 100).map(lambda back: TODAY - timedelta(days=back))
readings = st.tuples(days, st.sampled_from(("tds", "ph")), st.floats(0, 14), st.sampled_from((None, "07:00", "19:30")))


@given(st.lists(st.one_of(readings, st.integers(0, 10)), max_size=12), st.integers(0, 12))
def test_a_refreshed_history_has_the_same_readings_as_one_read_from_the_start(
    steps: list[tuple[date, Quantity, float, str | None] | int], seen: int
) -> None:
    ledger = MemoryLedger()
    history = history_of(ledger, TODAY)
    for number, step in enumerate(steps):
        if isinstance(step, int):
            acts = [entry.act for entry in ledger.everything() if not isinstance(entry.what, Undone)]
            undone = {entry.what.act for entry in ledger.everything() if isinstance(entry.what, Undone)}
            left = [act for act in acts if act not in undone]
            if left:
                ledger.append([Undone(left[step % len(left)])], day=TODAY, at=MORNING, by="Ana")
        else:
            day, quantity, value, time = step
            ledger.append([Reading("a1", quantity, value, time)], day=day, at=MORNING, by="Ana")
        if number % (seen + 1) == 0:
            history.water_of("a1")
            history = refresh(history, ledger)
    fresh = history_of(ledger, TODAY)
    again = refresh(history, ledger)
    assert again.water_of("a1") == fresh.water_of("a1")
    assert again.water == fresh.water
