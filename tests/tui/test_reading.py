"""A rack's water read in a walk: digits and Enter, questions that keep the place, the way back, rack after rack."""

from __future__ import annotations

from pathlib import Path

from schedules.ledger import LedgerFault, Reading
from schedules.session.session import Session
from tests.tui.hand import at_work
from tests.tui.rooms import NOW, day, make_session, room_text
from tui.screens.water.reading import parts_of

THREE = '[water]\nread = ["temperature", "ph", "tds"]\n'


def read_before(folder: Path, **values: float) -> Session:
    """The room two days after such values were read in a1."""
    session = make_session(folder, room_text(also=THREE))
    read = [Reading("a1", quantity, value) for quantity, value in values.items()]  # type: ignore[arg-type]
    session.ledger.append(read, day=day(2), at=NOW, by="Ben")
    session.catch_up()
    return session


async def test_values_typed_as_fast_as_keys_come_are_kept_in_walking_order_and_a_comma_is_a_point(
    tmp_path: Path,
) -> None:
    async with at_work(make_session(tmp_path)) as hand:
        await hand.open("reading")
        keys = ("2", "3", "comma", "5", "enter", "1", "8", "0", "enter", "2", "4", "full_stop", "1", "enter")
        await hand.press(*keys)
        await hand.sees("a2: temperature 24.1", "a2 Long slate, TDS", "23.5 °C", "180 mg/L")

        assert hand.written == [
            Reading("a1", "temperature", 23.5),
            Reading("a1", "tds", 180),
            Reading("a2", "temperature", 24.1),
        ]


async def test_the_last_value_and_the_change_stand_beside_each_value_also_while_it_is_typed(tmp_path: Path) -> None:
    async with at_work(read_before(tmp_path, temperature=24.0, tds=150.0)) as hand:
        await hand.open("reading")
        await hand.sees("24 °C, 23 Nov", "150 mg/L, 23 Nov")
        await hand.press("2", "2", "comma", "5")
        await hand.sees("22.5_", "-1.5 °C")
        await hand.press("enter", "enter")
        await hand.sees("22.5 °C", "-1.5 °C", "a1 Moss corner, TDS")
        await hand.press("1", "6", "1", "enter")
        await hand.sees("161 mg/L", "+11 mg/L")


async def test_a_slip_of_the_hand_is_questioned_at_its_place_enter_keeps_it_and_a_digit_begins_another_value(
    tmp_path: Path,
) -> None:
    async with at_work(read_before(tmp_path, temperature=24.0, ph=6.9, tds=150.0)) as hand:
        await hand.open("reading")
        await hand.press("2", "comma", "3", "5", "enter")
        await hand.sees("temperature: 2.35", "23.5 °C may be meant", "enter keeps it")
        await hand.press("2", "3", "comma", "5", "enter")
        await hand.sees("a1 Moss corner, pH")
        await hand.press("7", "0", "enter")
        await hand.sees("pH: 70", "7 may be meant")
        await hand.press("backspace", "comma", "1", "enter")
        await hand.sees("a1 Moss corner, TDS")
        await hand.press("1", "5", "2", "0", "enter")
        await hand.sees("TDS: 1520", "152 mg/L may be meant", "enter keeps it")
        assert hand.written == [Reading("a1", "temperature", 23.5), Reading("a1", "ph", 7.1)]
        await hand.press("enter")
        await hand.sees("a1: TDS 1520 mg/L", "a2 Long slate, temperature")
        assert hand.written[-1] == Reading("a1", "tds", 1520)


async def test_undo_goes_back_to_the_last_value_of_this_walk_alone_and_it_can_be_read_again(tmp_path: Path) -> None:
    session = make_session(tmp_path)
    async with at_work(session) as hand:
        await hand.open("reading")
        await hand.press("u")
        await hand.sees("nothing was kept here yet")
        await hand.press("2", "4", "enter", "1", "8", "0", "enter", "u")
        await hand.sees("taken back: TDS 180 mg/L", "a1 Moss corner, TDS")
        await hand.press("1", "9", "0", "enter")
        await hand.sees("a1: TDS 190 mg/L")
        held = [entry.what for entry in session.history.water_of("a1")]
        assert held == [Reading("a1", "temperature", 24), Reading("a1", "tds", 190)]


async def test_behind_a_rack_enter_goes_on_and_quarantine_is_read_last(tmp_path: Path) -> None:
    session = make_session(tmp_path)
    async with at_work(session) as hand:
        await hand.open("reading")
        await hand.press("2", "4", *["enter"] * 10)
        await hand.sees("Wall rack: 1 of 10 values read; enter goes on to quarantine", "b2 Pale ones, TDS")
        await hand.press("enter")
        await hand.sees("q1 Newcomers, temperature", "quarantine: 2 values to read")
        await hand.press("enter", "enter")
        await hand.sees("quarantine: 0 of 2 values read; that was the last")
        await hand.press("enter")
        await hand.sees("that was the last")

    assert [part.tanks for part in parts_of(session.room)] == [("a1", "a2", "a3", "b1", "b2"), ("q1",)]


async def test_what_was_typed_and_not_kept_is_dropped_where_the_keeper_goes_elsewhere(tmp_path: Path) -> None:
    async with at_work(make_session(tmp_path)) as hand:
        await hand.open("reading")
        await hand.press("2", "4", "down")
        await hand.sees("a1 Moss corner, TDS")
        assert "24" not in hand.text.partition("tank  quantity")[2]
        await hand.press("enter")
        assert hand.written == []


async def test_what_is_no_value_and_what_no_water_can_have_is_not_kept(tmp_path: Path) -> None:
    async with at_work(make_session(tmp_path)) as hand:
        await hand.open("reading")
        await hand.press("comma", "enter")
        await hand.sees(". is no number", "a1 Moss corner, temperature: .")
        await hand.press("backspace", "9", "9", "9", "enter")
        await hand.sees("cannot be")
        await hand.press("enter")
        await hand.sees("a1 Moss corner, temperature: 999")
        assert hand.written == []


async def test_a_value_that_the_ledger_does_not_take_is_said_and_stays_typed(tmp_path: Path) -> None:
    session = make_session(tmp_path)

    def fails(*_: object, **__: object) -> None:
        raise LedgerFault("disk full")

    async with at_work(session) as hand:
        await hand.open("reading")
        await hand.press("2", "4")
        session.read_water = fails  # type: ignore[assignment, method-assign]
        await hand.press("enter")
        await hand.sees("NOT SAVED. disk full", "a1 Moss corner, temperature: 24")


async def test_quantities_chosen_once_hold_for_every_rack_and_the_next_walk(tmp_path: Path) -> None:
    async with at_work(make_session(tmp_path)) as hand:
        await hand.open("reading")
        await hand.press("o")
        for digit, says in (("1", "· temperature"), ("3", "· TDS"), ("4", "● pH")):
            await hand.sees("What is read?")
            await hand.press(digit)
            await hand.sees(says)
        await hand.press("enter")
        await hand.sees("a1 Moss corner, pH")
        assert "temperature" not in hand.text
        await hand.press("escape")
        await hand.is_at("round")
        await hand.open("reading")
        await hand.sees("a1 Moss corner, pH")
