"""The water screens: tanks worst first, one tank in words and as plots, and what was poured in, in few keys."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path

import pytest

from schedules.ledger import Reading, SaltAdded, Undone, WaterAdded, WaterChanged
from schedules.review.water import quantity_states, tank_state, worst_first
from schedules.session.session import Session
from tests.tui.hand import Hand, at_work
from tests.tui.rooms import NOW, day, make_session, room_text
from tests.tui.water import water_session
from tui.screens.water.plots import quantity_plot

WATERS = """
[[waters]]
id = "rain"
name = "Rain butt"
tds = 20
top_off = true

[[waters]]
id = "hard"
name = "Tap, half and half"
tds = 240

[[salts]]
id = "grit"
name = "Mineral grit"
measured = { grams = 1, water = 10, tds = 80 }
"""


async def at_water_of(hand: Hand, tank: str) -> None:
    """Open a tank's water from the list."""
    await hand.open("water")
    await hand.sees(f" {tank} ")
    screen = hand.app.page
    rows = [state.tank for state in screen.items()]  # type: ignore[attr-defined]
    await hand.press(*["down"] * rows.index(tank), "enter")
    await hand.is_at("tank_water")


async def test_the_drifting_tank_comes_first_and_says_when_it_leaves_its_target(tmp_path: Path) -> None:
    async with at_work(water_session(tmp_path)) as hand:
        await hand.press("H")
        await hand.sees("medium  b2", "passes 210 mg/L about Mon 7 Dec", "nothing found", "never read")
        await hand.press("enter")
        await hand.sees("TDS 205 mg/L today", "+2 mg/L since Sat 21 Nov", "+6 mg/L a week", "target 160 to 210 mg/L")
        await hand.sees("moved away from its own level", "pour in:")


async def test_a_rack_that_moved_as_one_is_one_finding_and_leaves_the_drifting_tank_in_view(tmp_path: Path) -> None:
    session = water_session(tmp_path, batch=True)
    async with at_work(session) as hand:
        await hand.press("H")
        await hand.sees("high    a1", "moved in 5 tanks of rack wall at once", "medium  b2", "TDS moved with a1")

    states = worst_first(session.room, session.history, session.day)
    assert [state.tank for state in states][:2] == ["a1", "b2"]
    assert sorted(state.tank for state in states) == sorted(session.room.walk)
    for state in states:
        assert state == tank_state(session.room, session.history, session.room.tanks[state.tank], session.day)


async def test_what_was_read_once_or_never_is_called_too_little_for_a_trend(tmp_path: Path) -> None:
    session = make_session(tmp_path)
    session.ledger.append([Reading("a1", "ph", 6.8)], day=day(0), at=NOW, by="Ben")
    session.catch_up()
    async with at_work(session) as hand:
        await hand.press("T")
        await hand.sees("pH 6.8 today; too few readings for a trend")
        await hand.press("escape", "down", "T")
        await hand.sees("a2 Long slate", "Nothing was read here yet: R reads this rack")


async def test_what_the_room_file_says_is_shown_as_such_without_a_trend(tmp_path: Path) -> None:
    text = room_text().replace("volume = 40", "volume = 40\nwater = { ph = 7.2 }", 1)
    async with at_work(make_session(tmp_path, text)) as hand:
        await hand.press("T")
        await hand.sees("pH 7.2 by the room file")
        assert "trend" not in hand.text
        await hand.press("g")
        await hand.sees("nothing was read here yet", "What to add")


async def test_a_plot_begins_with_what_was_found_and_goes_through_the_quantities(tmp_path: Path) -> None:
    async with at_work(water_session(tmp_path)) as hand:
        await at_water_of(hand, "b2")
        await hand.press("g")
        await hand.sees("TDS, mg/L", "200┤", "● b2", "· others of rack wall", "─ target 160 to 210", "w water changed")
        await hand.press("o")
        await hand.sees("temperature, °C", "24┤")
        await hand.press("g")
        await hand.sees("What to add")
        await hand.press("o")
        await hand.sees("temperature, °C")


def test_a_plot_holds_every_reading_of_the_last_weeks_in_the_keeper_s_units_and_what_was_done(tmp_path: Path) -> None:
    session = water_session(tmp_path)
    tank = session.room.tanks["b2"]
    plot = quantity_plot(session.room, session.history, tank, "tds", session.day)
    own = plot.series[-1]

    assert own.name == "b2" and len(own.points) == 15 and own.points[-1] == (NOW, 205.0)
    assert {series.name for series in plot.series[:-1]} == {"others of rack wall"} and len(plot.series) == 5
    assert [(level.low, level.high) for level in plot.levels] == [(160, 210), (None, 260)]
    done = {events.name: [at.date() for at in events.at] for events in plot.events}
    assert done["water changed"] == [day(40)] and done["topped off"] == [day(12)]
    assert done["fed (last 4 weeks)"] == [day(8), day(6), day(2)]


def test_a_temperature_is_plotted_in_the_room_s_own_unit(tmp_path: Path) -> None:
    session = make_session(tmp_path, f'units = "us"\n{room_text()}')
    session.ledger.append([Reading("a1", "temperature", 25.0)], day=day(0), at=NOW, by="Ben")
    session.catch_up()
    plot = quantity_plot(session.room, session.history, session.room.tanks["a1"], "temperature", session.day)

    # 25 °C is 77 °F (NIST SP 811, B.8: t/°F = 1.8 t/°C + 32).
    assert [value for _, value in plot.series[-1].points] == [pytest.approx(77.0)]
    assert "°F" in plot.unit


async def test_topping_off_takes_the_litres_and_the_usual_water_and_undo_takes_it_back(tmp_path: Path) -> None:
    session = make_session(tmp_path, room_text(also=WATERS))
    async with at_work(session) as hand:
        await hand.press("T")
        await hand.is_at("tank_water")
        await hand.press("a")
        await hand.sees("how many litres were poured in?")
        await hand.press("1", ",", "5", "enter")
        await hand.sees("which water?", "Rain butt", "Tap, half and half", "pure water")
        await hand.press("enter")
        await hand.sees("1.5 L of Rain butt added to a1", "u takes it back")
        assert hand.written == [WaterAdded("a1", 1.5, "rain")]
        await hand.press("u")
        await hand.sees("Take back what?")
        await hand.press("enter")
        await hand.sees("taken back")
        assert isinstance(hand.written[-1], Undone)


async def test_more_than_the_tank_holds_is_questioned_and_can_be_insisted_on(tmp_path: Path) -> None:
    async with at_work(make_session(tmp_path, room_text(also=WATERS))) as hand:
        await hand.press("T")
        await hand.is_at("tank_water")
        for picked, wrote in (("1", []), ("2", [WaterChanged("a1", 60, "hard")])):
            await hand.press("c")
            await hand.sees("how many litres were changed?")
            await hand.press("6", "0", "enter")
            await hand.sees("which water?")
            await hand.press("3")
            await hand.sees("more than is poured in at once")
            await hand.press(picked)
            await hand.is_at("tank_water")
            assert hand.written == wrote


async def test_a_salt_is_written_down_in_grams(tmp_path: Path) -> None:
    async with at_work(make_session(tmp_path, room_text(also=WATERS))) as hand:
        await hand.press("T")
        await hand.is_at("tank_water")
        await hand.press("s")
        await hand.sees("how many grams of Mineral grit?")
        await hand.press("2", "enter")
        await hand.sees("2 g of Mineral grit put into a1")
        assert hand.written == [SaltAdded("a1", "grit", 2)]


async def test_the_sources_of_the_formulas_are_shown_on_demand(tmp_path: Path) -> None:
    async with at_work(make_session(tmp_path), (120, 40)) as hand:
        await hand.press("T")
        await hand.is_at("tank_water")
        await hand.press("i")
        await hand.sees("Emerson, Russo, Lund and Thurston 1975", "EPA-822-R-13-001", "ISO 7888")


def test_a_state_shows_the_value_before_also_where_a_day_was_read_twice(tmp_path: Path) -> None:
    session: Session = make_session(tmp_path)
    for back, value in ((3, 6.8), (0, 6.9), (0, 7.0)):
        at = NOW - timedelta(days=back)
        session.ledger.append([Reading("a1", "ph", value)], day=day(back), at=at, by="Ben")
    session.catch_up()
    (state,) = quantity_states(session.history, session.room.tanks["a1"], session.day)

    assert state.now.value == 7.0
    assert state.before is not None and state.before.value == 6.9
    assert state.few and state.trend is None
