"""What was seen of the animals, written down at the stop: three keys, and the rest only where it is needed."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path

from schedules.ledger import Served, Sighting, Undone
from tests.tui.hand import Hand, at_work
from tests.tui.rooms import make_session


async def pick(hand: Hand, digit: str) -> None:
    """Pick what was seen at the first stop, up to the question how many."""
    await hand.press("c")
    await hand.sees("a1: what was seen?")
    await hand.press(digit)
    await hand.sees("how many?")


async def test_a_hatch_is_written_down_with_three_keys_and_tomorrow_counts_on_it(tmp_path: Path) -> None:
    session = make_session(tmp_path)
    tomorrow = session.day + timedelta(days=1)
    before = session.room.tanks["a2"].count("shrimplet", tomorrow)
    async with at_work(session) as hand:
        await hand.press("down")
        await hand.sees("a2 Long slate")
        await hand.press("c")
        await hand.sees("a2: what was seen?")
        await hand.press("1")
        await hand.sees("how many?")
        await hand.press("4")

        await hand.sees("about 30 shrimplets hatched in a2", "u takes it back", f"{before + 30} shrimplets")
        assert hand.written == [Sighting("a2", "hatch", "shrimplet", 30, False)]
        assert session.room.tanks["a2"].count("shrimplet", tomorrow) == before + 30

        await hand.press("u")
        await hand.sees("Take back what?")
        await hand.press("1")
        await hand.sees("taken back: about 30 shrimplets hatched in a2")
        assert isinstance(hand.written[-1], Undone)
        assert session.room.tanks["a2"].count("shrimplet", tomorrow) == before


async def test_a_rack_is_counted_with_digits_and_enter_and_undo_takes_back_the_last_count_alone(tmp_path: Path) -> None:
    session = make_session(tmp_path)
    async with at_work(session) as hand:
        await hand.open("counting")
        await hand.press("5", "5", "enter")
        await hand.sees("55 shrimplets counted in a1", "a1 Moss corner, adults")
        await hand.press("enter")
        await hand.sees("a2 Long slate, shrimplets")
        await hand.press("7", "enter")
        await hand.sees("7 shrimplets counted in a2", "a2 Long slate, adults")
        assert hand.written == [
            Sighting("a1", "count", "shrimplet", 55, True),
            Sighting("a2", "count", "shrimplet", 7, True),
        ]
        assert session.room.tanks["a2"].count("shrimplet", session.day) == 7

        await hand.press("u")
        await hand.sees("taken back: 7 shrimplets counted in a2", "a2 Long slate, shrimplets")
        assert session.room.tanks["a2"].count("shrimplet", session.day) == 60
        assert session.room.tanks["a1"].count("shrimplet", session.day) == 55


async def test_a_number_can_be_typed_and_one_that_is_none_stays_in_its_box(tmp_path: Path) -> None:
    async with at_work(make_session(tmp_path)) as hand:
        await pick(hand, "2")
        await hand.press("7")
        await hand.sees("enter keeps it")
        await hand.press("x", "enter")
        await hand.sees("is no number of animals")
        for key in ("backspace", "1", "2", "enter"):
            await hand.press(key)
        await hand.sees("12 berried females seen in a1")


async def test_a_move_asks_for_stage_and_tank_and_more_than_there_are_is_questioned(tmp_path: Path) -> None:
    async with at_work(make_session(tmp_path)) as hand:
        await pick(hand, "6")
        await hand.press("6")
        await hand.sees("of which?")
        await hand.press("1")
        await hand.sees("moved to which tank?")
        await hand.press("n", "o", "enter")
        await hand.sees('there is no other tank "no"')
        for key in ("backspace", "backspace", "A", "2", "enter"):
            await hand.press(key)
        await hand.sees("only 60 shrimplets")
        await hand.press("1")
        assert hand.written == []

        await pick(hand, "6")
        await hand.press("3")
        await hand.sees("of which?")
        await hand.press("1")
        await hand.sees("moved to which tank?")
        await hand.press("a", "2", "enter")
        await hand.sees("about 10 shrimplets moved from a1 to a2")


async def test_of_adults_that_are_moved_it_is_asked_how_many_carry_eggs_and_they_are_expected_there(
    tmp_path: Path,
) -> None:
    session = make_session(tmp_path)
    async with at_work(session) as hand:
        await hand.press("down", "down", "down", "down")
        await hand.sees("b2 Pale ones")
        await hand.press("c")
        await hand.sees("b2: what was seen?")
        await hand.press("6")
        await hand.sees("how many?")
        await hand.press("1")
        await hand.sees("of which?")
        await hand.press("2")
        await hand.sees("moved to which tank?")
        await hand.press("a", "2", "enter")
        await hand.sees("b2: how many of them are berried?")
        await hand.press("3")
        await hand.sees("1 of them berried")

        assert [(brood.tank, brood.heads) for brood in session.life.broods] == [("b2", 1), ("a2", 1)]


async def test_a_hatch_that_is_news_where_no_fine_feed_is_due_offers_it_with_one_key(tmp_path: Path) -> None:
    session = make_session(tmp_path)
    posted = session.history.due(session.day)
    async with at_work(session) as hand:
        await hand.press("down", "down")
        await hand.sees("a3 Fern and root")
        await hand.press("c")
        await hand.sees("a3: what was seen?")
        await hand.press("1")
        await hand.sees("how many?")
        await hand.press("4")
        await hand.sees("a3: about 30 hatched; G gives Nettle dust", "u takes it back")
        await hand.sees("Hatched today: G gives the young")
        await hand.press("G")
        await hand.sees("of Nettle dust given")

        given = hand.written[-1]
        assert isinstance(given, Served) and (given.tank, given.feed, given.planned) == ("a3", "dust", False)
        assert session.history.due(session.day) == posted
        assert "Hatched today" not in hand.text

        await hand.press("G")
        await hand.sees("fine feed is due or given already")


async def test_survival_is_a_table_or_a_plot_by_one_key_and_the_plot_keeps_the_other_keys(tmp_path: Path) -> None:
    async with at_work(make_session(tmp_path)) as hand:
        await hand.open("survival")
        await hand.sees("Each hatch", "g: as a plot")
        await hand.press("g")
        await hand.sees("100┤", "b1 (1)", "● at 30 days", "(1) hatches behind it", "Nothing can be concluded")
        assert "Each hatch" not in hand.text
        assert "at 60 days" not in hand.text, "nobody counted at 60 days"
        await hand.press("o", "o")
        await hand.sees("Side by side: months", "2026-10 (1)")
        await hand.press("right", "left", "g")
        await hand.sees("Side by side: months", "Each hatch")
