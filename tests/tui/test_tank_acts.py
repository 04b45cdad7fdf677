"""Marking at a tank: what is asked, what is written, and how it is taken back."""

from __future__ import annotations

from pathlib import Path

import pytest

from schedules.ledger import Noted, Reason, Served, Skipped
from tests.tui.hand import at_work
from tests.tui.rooms import make_session, second_session
from tui.screens.dialogs.leave_out import REASONS


async def test_one_serving_is_marked_by_its_number(tmp_path: Path) -> None:
    async with at_work(make_session(tmp_path)) as hand:
        await hand.press("1")
        await hand.sees("of Insect wafers given")
        assert [(what.tank, what.feed) for what in hand.written if isinstance(what, Served)] == [("a1", "bug")]

        await hand.press("1")
        await hand.sees("Insect wafers: given already")
        assert len(hand.written) == 1


async def test_a_rule_that_stands_against_it_is_told_and_nothing_is_written_unless_the_keeper_insists(
    tmp_path: Path,
) -> None:
    async with at_work(make_session(tmp_path)) as hand:
        await hand.press("down", "down", "down")
        await hand.sees("b1 Amber, line two", "HOLD BACK")
        await hand.press("1")
        await hand.sees("Hold back Plain pellets in b1", "yesterday", "Mara", "leave it")
        await hand.press("1")
        await hand.is_at("round")
        assert hand.written == []

        await hand.press("1")
        await hand.sees("leave it")
        await hand.press("2")
        await hand.sees("given as extra")
        assert [(type(what), getattr(what, "broke", None)) for what in hand.written] == [(Served, "min_gap")]


async def test_done_leaves_out_what_is_held_back_with_the_rule_as_its_reason(tmp_path: Path) -> None:
    async with at_work(make_session(tmp_path)) as hand:
        await hand.press("down", "down", "down", "space")
        await hand.sees("b1 done: 0 given, 1 held back")
        skipped = hand.written[0]
        assert isinstance(skipped, Skipped)
        assert (skipped.because.code, skipped.because.get("gap")) == ("min_gap", 2)


async def test_a_reason_for_skipping_is_picked_by_its_digit(tmp_path: Path) -> None:
    async with at_work(make_session(tmp_path)) as hand:
        for number, reason in enumerate(REASONS, 1):
            await hand.press("t")
            await hand.sees("Which tank?")
            await hand.press(*"a2", "enter")
            await hand.sees("a2 Long slate", "1 due  a2")
            await hand.press("s")
            await hand.sees("a2: why is it left out?")
            await hand.press(str(number))
            await hand.sees(f"skipped, {reason}")
            assert hand.written[-1] == Skipped("a2", "dust", "morning", Reason.other(reason))
            await hand.press("u")
            await hand.sees("Take back what?")
            await hand.press("u")
            await hand.sees("taken back: ")


async def test_another_reason_is_typed_and_escape_skips_nothing(tmp_path: Path) -> None:
    async with at_work(make_session(tmp_path)) as hand:
        await hand.press("down", "s")
        await hand.sees("a2: why is it left out?")
        await hand.press("escape")
        await hand.is_at("round")
        assert hand.written == []

        await hand.press("s")
        await hand.sees("another reason")
        await hand.press(str(len(REASONS) + 1))
        await hand.sees("a2: why, in your own words?")
        await hand.press(*"heater", "enter")
        await hand.sees("skipped, heater")
        assert hand.written == [Skipped("a2", "dust", "morning", Reason.other("heater"))]


@pytest.mark.parametrize("tank", ["a1", "a2"], ids=["two due", "one due"])
async def test_the_first_digit_is_the_reason_however_many_servings_are_due(tank: str, tmp_path: Path) -> None:
    async with at_work(make_session(tmp_path)) as hand:
        hand.app.show_stop(tank)
        due = [serving.due.feed for serving in next(s for s in hand.app.session.sheet.stops if s.tank == tank).servings]
        await hand.press("s")
        await hand.sees(f"{tank}: why is it left out?")
        await hand.press("2")
        if len(due) > 1:
            await hand.sees("leave out what?", "3  both")
            await hand.press("enter")
        await hand.sees("skipped, water cloudy")
        assert hand.written == [Skipped(tank, feed, "morning", Reason.other("water cloudy")) for feed in due]


async def test_the_round_goes_on_once_nothing_more_is_due_at_the_stop_and_stays_while_something_is(
    tmp_path: Path,
) -> None:
    async with at_work(make_session(tmp_path)) as hand:
        for left in ("1", "1"):
            await hand.sees("a1 Moss corner")
            await hand.press("s")
            await hand.sees("a1: why is it left out?")
            await hand.press("1")
            if "what?" in hand.text:
                await hand.press(left)
            await hand.sees("skipped, leftovers lying")
        await hand.sees("a2 Long slate", "2 of 6 stops done")


async def test_of_several_servings_one_is_left_out_by_its_digit_and_escape_leaves_out_none(tmp_path: Path) -> None:
    async with at_work(make_session(tmp_path)) as hand:
        second = hand.app.session.sheet.stops[0].servings[1].due.feed
        await hand.press("s")
        await hand.sees("a1: why is it left out?")
        await hand.press("1")
        await hand.sees("leave out what?")
        await hand.press("escape")
        await hand.is_at("round")
        assert hand.written == []

        await hand.press("s")
        await hand.sees("a1: why is it left out?")
        await hand.press("1")
        await hand.sees("leave out what?")
        await hand.press("2")
        await hand.sees("skipped, leftovers lying")
        assert hand.written == [Skipped("a1", second, "morning", Reason.other("leftovers lying"))]


@pytest.mark.parametrize("number", [0, 1])
async def test_the_serving_left_out_is_the_one_whose_digit_was_pressed(number: int, tmp_path: Path) -> None:
    async with at_work(make_session(tmp_path)) as hand:
        feed = hand.app.session.sheet.stops[0].servings[number].due.feed
        await hand.press("s", "2", str(number + 1))
        await hand.sees("skipped, water cloudy")
        assert hand.written == [Skipped("a1", feed, "morning", Reason.other("water cloudy"))]


async def test_the_undo_key_takes_back_the_newest_when_pressed_again_but_not_while_it_is_held(tmp_path: Path) -> None:
    now = [100.0]
    async with at_work(make_session(tmp_path), tick=lambda: now[0]) as hand:
        await hand.press("space")
        await hand.sees("2 of 6 stops done")
        await hand.press("u")
        await hand.sees("Take back what?")
        for _ in range(20):
            now[0] += 0.033
            await hand.press("u")
        await hand.sees("Take back what?", "2 of 6 stops done")
        assert len(hand.written) == 2

        now[0] += 0.5
        await hand.press("u")
        await hand.sees("taken back", "1 of 6 stops done")


async def test_a_mistyped_amount_keeps_its_box_with_the_fault_in_it_and_a_comma_is_a_point(tmp_path: Path) -> None:
    async with at_work(make_session(tmp_path)) as hand:
        await hand.press("down", "down", "a")
        await hand.sees("another amount of what?")
        await hand.press("1")
        await hand.sees("how much Insect wafers?")
        await hand.press("end", "enter")
        await hand.sees("of Insect wafers?", "enter keeps it")
        await hand.press(*"1,,5", "enter")
        await hand.sees('"1,,5" is no amount')
        await hand.press("2", "enter")
        await hand.sees('"1,,52" is no amount')
        assert hand.written == [], "what is typed next goes into the box and marks no serving"

        await hand.press(*["backspace"] * 5)
        await hand.press(*"2,5", "enter")
        await hand.sees("of Insect wafers given")
        assert [what.amount for what in hand.written if isinstance(what, Served)] == [2.5]


async def test_an_amount_typed_in_ml_of_a_mix_counts_as_ml_and_not_as_measures(tmp_path: Path) -> None:
    async with at_work(make_session(tmp_path)) as hand:
        due = hand.app.session.sheet.stops[0].servings[1].due
        await hand.sees("7.5 mL    Nettle dust mix")
        await hand.press("a", "2", "end", "enter")
        await hand.sees("how many mL of the mix of Nettle dust?")
        await hand.press(*"15", "enter")
        await hand.sees("of Nettle dust given")
        (what,) = [what for what in hand.written if isinstance(what, Served)]
        assert what.amount_mg == pytest.approx(2 * due.amount_mg), "twice the mL, twice the mg"
        assert what.amount == pytest.approx(2 * due.amount)


async def test_enter_twice_in_another_amount_gives_what_is_due(tmp_path: Path) -> None:
    async with at_work(make_session(tmp_path)) as hand:
        due = hand.app.session.sheet.stops[0].servings[0].due
        await hand.press("a")
        await hand.sees("another amount of what?")
        await hand.press("enter")
        await hand.sees("how much Insect wafers?")
        await hand.press("enter")
        await hand.sees("of Insect wafers given")
        assert [what.amount for what in hand.written if isinstance(what, Served)] == [pytest.approx(due.amount)]


@pytest.mark.parametrize("tank", ["a1", "a2"], ids=["two due", "one due"])
async def test_the_same_keys_do_the_same_with_one_and_with_two_servings_due(tank: str, tmp_path: Path) -> None:
    async with at_work(make_session(tmp_path)) as hand:
        hand.app.show_stop(tank)
        for key, asks in (("s", "why is it left out?"), ("a", "another amount of what?"), ("l", "leftovers of what?")):
            await hand.press(key)
            await hand.sees(f"{tank}: {asks}")
            await hand.press("escape")
            await hand.is_at("round")
        assert hand.written == []


async def test_a_feed_that_is_not_due_is_offered_with_the_amount_that_is_given(tmp_path: Path) -> None:
    async with at_work(make_session(tmp_path)) as hand:
        await hand.press("g")
        await hand.sees("a1: give what?")
        line = next(each for each in hand.text.splitlines() if "Walnut leaf" in each)
        assert " mg)" in line
        await hand.press(line.split()[1])
        await hand.sees("of Walnut leaf given")


async def test_a_key_that_is_held_down_finishes_one_stop(tmp_path: Path) -> None:
    now = [100.0]
    async with at_work(make_session(tmp_path), tick=lambda: now[0]) as hand:
        for _ in range(30):
            await hand.press("space")
            now[0] += 0.033
        await hand.sees("2 of 6 stops done")
        now[0] += 0.3
        await hand.press("space")
        await hand.sees("3 of 6 stops done")


async def test_closing_while_a_text_is_being_typed_asks(tmp_path: Path) -> None:
    async with at_work(make_session(tmp_path)) as hand:
        await hand.press("n")
        await hand.sees("a1: note")
        await hand.press(*"shells")
        await hand.press("ctrl+q")
        await hand.sees("A text is not finished. Close the program?")
        await hand.press("enter")
        await hand.sees("a1: note", "shells")
        assert hand.app.is_running


async def test_undo_offers_the_last_stops_and_all_of_a_rack_at_once(tmp_path: Path) -> None:
    async with at_work(make_session(tmp_path)) as hand:
        await hand.press("space", "space", "space")
        await hand.sees("4 of 6 stops done")
        await hand.press("u")
        await hand.sees("Take back what?", "all 4 of today at Wall rack")
        await hand.press("3")
        await hand.sees("taken back", "3 of 6 stops done")
        assert hand.app.session.sheet.stops[0].open

        await hand.press("u")
        await hand.sees("all 3 of today at Wall rack")
        await hand.press("end", "enter")
        await hand.sees("1 of 6 stops done")


async def test_a_text_that_was_typed_is_let_go_with_a_second_escape(tmp_path: Path) -> None:
    async with at_work(make_session(tmp_path)) as hand:
        await hand.press("n")
        await hand.sees("a1: note")
        await hand.press(*"shells", "escape")
        await hand.sees("esc again lets the text go")
        await hand.press("enter")
        await hand.sees("a1: noted")
        await hand.press("n")
        await hand.sees("a1: note")
        await hand.press(*"x", "escape", "escape")
        await hand.is_at("round")
        assert len(hand.written) == 1


async def test_a_note_shows_at_its_tank_and_an_empty_one_is_not_written(tmp_path: Path) -> None:
    async with at_work(make_session(tmp_path), size=(120, 40)) as hand:
        await hand.press("n")
        await hand.sees("a1: note")
        await hand.press("enter")
        await hand.sees("a note needs a text")
        await hand.press("n")
        await hand.sees("a1: note")
        await hand.press(*"moulted", "enter")
        await hand.sees("Wed 25 Nov: moulted (Mara)")
        assert hand.written == [Noted("a1", "moulted")]


async def test_undo_takes_back_a_whole_stop_at_once_and_only_ones_own(tmp_path: Path) -> None:
    session = make_session(tmp_path)
    other = second_session(session, tmp_path)
    async with at_work(session) as hand:
        await hand.press("space")
        await hand.sees("2 of 6 stops done")
        other.finish(other.sheet.stops[1])
        await hand.press("u")
        await hand.sees("Take back what?")
        await hand.press("1")
        await hand.sees("taken back: ", "2 of 6 stops done")
        await hand.press("up")
        await hand.sees("a1 Moss corner", "2 due")


async def test_a_stop_left_for_later_comes_again_at_the_end(tmp_path: Path) -> None:
    async with at_work(make_session(tmp_path)) as hand:
        await hand.press("z")
        await hand.sees("later", "a2 Long slate")
        await hand.press("space", "space", "space", "space")
        await hand.sees("a1 Moss corner", "5 of 6 stops done")
        await hand.press("space")
        await hand.sees("The morning round is done", "6 given, 1 skipped at 6 stops", "3 urgent flags")
        await hand.press("escape")
        await hand.sees("6 of 6 stops done", "The round is done")


async def test_stops_left_for_later_wait_until_no_other_is_open_wherever_they_stand(tmp_path: Path) -> None:
    async with at_work(make_session(tmp_path)) as hand:
        await hand.press("down", "z")
        await hand.sees("a2 comes again at the end of the round", "a3 Fern and root")
        await hand.press("home")
        await hand.sees("a1 Moss corner")
        for tank in ("a1", "a3", "b1", "b2"):
            await hand.until(lambda tank=tank: hand.app.page.current_tank == tank, tank)  # type: ignore[misc, attr-defined]
            await hand.press("space")
        await hand.sees("a2 Long slate", "5 of 6 stops done")


async def test_a_tap_goes_to_a_stop_and_a_tap_in_the_footer_does_the_act(tmp_path: Path) -> None:
    async with at_work(make_session(tmp_path)) as hand:
        rows = hand.text.splitlines()
        await hand.pilot.click(offset=(3, next(y for y, line in enumerate(rows) if " b2 " in line)))
        await hand.sees("b2 Pale ones")
        footer = next(y for y, line in enumerate(rows) if "F1 keys" in line)
        await hand.pilot.click(offset=(rows[footer].index("done"), footer))
        await hand.sees("b2 done")
        assert [what.tank for what in hand.written if isinstance(what, Served)] == ["b2"]


async def test_a_tap_on_a_serving_marks_it(tmp_path: Path) -> None:
    async with at_work(make_session(tmp_path)) as hand:
        rows = hand.text.splitlines()
        y = next(y for y, line in enumerate(rows) if "1  " in line and "Insect wafers" in line)
        await hand.pilot.click(offset=(rows[y].index("Insect"), y))
        await hand.sees("of Insect wafers given")
        assert [(what.tank, what.feed) for what in hand.written if isinstance(what, Served)] == [("a1", "bug")]
