"""The list of stops narrowed to a rack, a feed or a state: what it holds, where it leads, how all come back."""

from __future__ import annotations

from pathlib import Path

import pytest

from schedules.ledger import Served
from tests.tui.hand import Hand, at_work
from tests.tui.rooms import make_session, second_session
from tui.screens.round import RoundScreen

ALL = ("a1", "a2", "a3", "b1", "b2", "q1")
DUST = ("a1", "a2", "b2")
"""Tanks where nettle dust is due this morning."""


def listed(hand: Hand) -> tuple[str, ...]:
    page = hand.app.page
    assert isinstance(page, RoundScreen)
    assert page.stops.row_count == len(page.stops.stops)
    return tuple(stop.key for stop in page.stops.stops)


async def narrow(hand: Hand, text: str) -> None:
    await hand.pilot.press("slash", *(key if key != " " else "space" for key in text), "enter")
    await hand.sees(f'narrowed to "{text}"')
    await hand.is_at("round")


@pytest.mark.parametrize(
    ("text", "tanks"),
    [
        ("dust", DUST),
        ("hold", ("b1",)),
        ("wall rack", ("a1", "a2", "a3", "b1", "b2", "q1")),
        ("due insect", ("a1", "a3")),
    ],
    ids=["feed", "state", "rack", "state and feed"],
)
async def test_the_list_holds_what_was_found_and_the_screen_says_so(
    text: str, tanks: tuple[str, ...], tmp_path: Path
) -> None:
    async with at_work(make_session(tmp_path)) as hand:
        await narrow(hand, text)
        assert listed(hand) == tanks
        await hand.sees(f'narrowed to "{text}": {len(tanks)} of 6 stops; esc lists all', "1 of 6 stops done")


async def test_space_walks_on_among_the_stops_that_are_listed_and_says_when_nothing_more_is_due_there(
    tmp_path: Path,
) -> None:
    async with at_work(make_session(tmp_path)) as hand:
        await narrow(hand, "dust")
        for tank in DUST:
            await hand.until(lambda tank=tank: hand.app.page.current_tank == tank, tank)  # type: ignore[misc, attr-defined]
            await hand.press("space")
        await hand.sees("nothing more is due at these stops; esc lists all again", "4 of 6 stops done")
        assert listed(hand) == DUST, "marked stops stay in the list"
        assert {what.tank for what in hand.written if isinstance(what, Served)} == set(DUST)


async def test_escape_lists_all_again_at_the_same_stop_and_the_line_goes(tmp_path: Path) -> None:
    async with at_work(make_session(tmp_path)) as hand:
        await narrow(hand, "dust")
        await hand.press("end")
        await hand.sees("b2 Pale ones")
        await hand.press("escape")
        await hand.until(lambda: len(listed(hand)) == 6, "all stops")
        await hand.sees("b2 Pale ones")
        assert "narrowed" not in hand.text


async def test_nothing_typed_lists_all_again(tmp_path: Path) -> None:
    async with at_work(make_session(tmp_path)) as hand:
        await narrow(hand, "hold")
        await hand.press("slash")
        await hand.sees("Which stops?", "with no text, all")
        await hand.press("enter")
        await hand.until(lambda: len(listed(hand)) == 6, "all stops")


async def test_it_lasts_over_other_screens_resizes_and_the_round_key(tmp_path: Path) -> None:
    async with at_work(make_session(tmp_path)) as hand:
        await narrow(hand, "dust")
        await hand.open("flags")
        await hand.press("escape")
        await hand.is_at("round")
        await hand.pilot.resize_terminal(170, 40)
        await hand.sees('narrowed to "dust"', "Insect wafers, Nettle dust")
        assert listed(hand) == DUST
        await hand.press("space", "r")
        await hand.until(lambda: hand.app.page.current_tank == "a2", "a2")  # type: ignore[attr-defined]
        assert listed(hand) == DUST


async def test_going_to_a_tank_that_is_not_listed_lists_all_again(tmp_path: Path) -> None:
    async with at_work(make_session(tmp_path)) as hand:
        await narrow(hand, "hold")
        await hand.press("t", *"fern", "enter")
        await hand.sees("a3 Fern and root")
        assert len(listed(hand)) == 6


async def test_what_others_do_at_stops_that_are_not_listed_changes_nothing_here(tmp_path: Path) -> None:
    session = make_session(tmp_path)
    other = second_session(session, tmp_path)
    async with at_work(session) as hand:
        await narrow(hand, "hold")
        other.finish(other.sheet.stops[1])
        hand.app.look()
        await hand.sees("2 of 6 stops done", 'narrowed to "hold": 1 of 6 stops')
        assert listed(hand) == ("b1",)


async def test_the_last_stop_of_the_round_done_in_a_narrowed_list_closes_the_round(tmp_path: Path) -> None:
    async with at_work(make_session(tmp_path)) as hand:
        await hand.press("space", "space", "space")
        await hand.sees("4 of 6 stops done")
        await narrow(hand, "due")
        await hand.press("space")
        await hand.sees("5 of 6 stops done")
        await narrow(hand, "hold")
        await hand.press("space")
        await hand.sees("The morning round is done")


@pytest.mark.parametrize("size", [(60, 20), (80, 24), (120, 40)], ids=["60x20", "80x24", "120x40"])
async def test_the_line_leaves_the_stop_in_view_at_every_size(size: tuple[int, int], tmp_path: Path) -> None:
    async with at_work(make_session(tmp_path), size=size) as hand:
        await narrow(hand, "dust")
        await hand.sees('narrowed to "dust": 3 of 6 stops; esc lists all', "a1 Moss corner", "F1 keys")
