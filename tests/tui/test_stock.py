"""The shelf screen: a delivery, a pack opened, a weighing, each with few keys and taken back by one."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path

import pytest

from schedules.ledger import Delivered, Opened, Sighting, Weighed
from tests.tui.hand import at_work
from tests.tui.rooms import TODAY, make_session
from tui.screens.stock.typed import Arrival, read_arrival, read_grams


async def test_a_feed_is_weighed_and_says_when_it_runs_out(tmp_path: Path) -> None:
    async with at_work(make_session(tmp_path)) as hand:
        await hand.press("F")
        await hand.sees("the shelf", "not weighed")
        await hand.press("g")
        await hand.sees("how many grams are there")
        await hand.press("2", ",", "5", "enter")
        await hand.sees("2.5 g of Nettle dust on the shelf", "runs out about", "u takes it back")
        assert hand.written == [Weighed("dust", 2.5)]


async def test_the_list_names_the_same_day_as_the_line_below_it_and_the_order_uncut(tmp_path: Path) -> None:
    async with at_work(make_session(tmp_path), size=(60, 20)) as hand:
        await hand.press("F", "g")
        await hand.sees("how many grams are there")
        await hand.press("2", "enter")
        await hand.sees("u takes it back")
        below = hand.text.split("runs out about ")[1]
        day = " ".join(below.split()[:3])
        row = next(line for line in hand.text.splitlines() if line.startswith("Nettle dust"))
        assert f"order {row.split(day)[1].strip()}\n" in below


async def test_a_delivery_takes_lot_and_date_in_one_line_and_a_fault_stays_in_its_box(tmp_path: Path) -> None:
    async with at_work(make_session(tmp_path)) as hand:
        await hand.press("F")
        await hand.sees("the shelf")
        await hand.press("d")
        await hand.sees("how many grams came?")
        await hand.press("x", "enter")
        await hand.sees("a number of grams")
        await hand.press("backspace")
        await hand.press(*"50 K7 2027-03-31", "enter")
        await hand.sees("50 g of Nettle dust delivered, lot K7, use by 2027-03-31")
        await hand.press("o")
        await hand.sees("which lot was opened?")
        await hand.press("enter")
        await hand.sees("a pack of Nettle dust opened")
        assert hand.written == [Delivered("dust", 50.0, "K7", "2027-03-31"), Opened("dust")]


async def test_what_runs_out_before_a_delivery_can_come_is_said_before_the_round(tmp_path: Path) -> None:
    """90 mg leave on every second day: with losses of a tenth 0.2 g are short of the third time, on Sunday."""
    session = make_session(tmp_path)
    session.weigh("dust", 0.2)
    session.weigh("flake", 500)
    async with at_work(session) as hand:
        await hand.open("prepare")
        await hand.sees("! order 5.1 g now: Nettle dust runs out about Sun 29 Nov")
        assert "Plain pellets runs out" not in hand.text

        session.deliver("dust", 100)
        hand.app.page.catch_up(frozenset())
        await hand.until(lambda: "runs out about" not in hand.text, "no order any more")


async def test_a_lot_shared_by_troubled_tanks_is_named_on_the_screen(tmp_path: Path) -> None:
    session = make_session(tmp_path)
    session.open_pack("dust", "K 7", day=TODAY - timedelta(days=4))
    for tank in ("a1", "a3"):
        session.saw(Sighting(tank, "dead", "adult", 1, True))
    async with at_work(session, (120, 40)) as hand:
        await hand.open("changes")
        await hand.sees("In several tanks with trouble", "lot K 7 (Mara, Sat 21 Nov 07:10), given in a1 since")
        shared, _, _ = hand.text.partition("In a1")
        assert "lot K 7 (Mara, Sat 21 Nov 07:10), given in a3 since, as in 2 tanks with trouble" in shared


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("50", Arrival(50.0, None, None)),
        ("50 g", "one"),
        ("12,5 K 7", Arrival(12.5, "K 7", None)),
    ],
)
def test_what_is_typed_of_a_delivery(text: str, found: Arrival | str) -> None:
    read = read_arrival(text)

    assert read == found if isinstance(found, Arrival) else isinstance(read, Arrival)


def test_a_date_is_the_use_by_date_wherever_it_stands() -> None:
    arrival = read_arrival("50 2027-03-31 K7")

    assert isinstance(arrival, Arrival)
    assert (arrival.lot, str(arrival.use_by)) == ("K7", "2027-03-31")


@pytest.mark.parametrize("text", ["", "K7", "0", "-3", "1e9", "50 2027-03-31 2027-04-30"])
def test_what_is_no_delivery_is_said(text: str) -> None:
    assert isinstance(read_arrival(text), str)


def test_grams_are_read_with_a_point_or_a_comma() -> None:
    assert read_grams("12,5") == read_grams(" 12.5 g ") == 12.5
