"""Every act of every screen, by its key."""

from __future__ import annotations

from functools import partial
from pathlib import Path
from typing import get_args

import pytest
from textual.widgets import OptionList

from schedules.ledger import What
from tests.tui.doing import BY_THEMSELVES, DOINGS, SHOWING, STAYING, Doing
from tests.tui.hand import Hand, at_work
from tests.tui.rooms import make_session, room_text
from tui.acts import ACTS, SUBJECTS, Place, acts_of, key_text
from tui.widgets.cells import cells
from tui.widgets.footer import GAP, Footer

PLACES: tuple[Place, ...] = get_args(Place)
LASTING = frozenset(key for key, doing in DOINGS.items() if doing.wrote or doing.lasting)
READ: tuple[Place, ...] = ("round", "prepare", "tank", "changes", "help")


async def work(hand: Hand, place: Place, doing: Doing) -> list[type[What]]:
    """Do all the steps, and return the kinds of entries that were written."""
    for keys, says in doing.steps:
        await hand.press(*keys.split())
        await hand.sees(says)
    await hand.is_at(doing.ends or place)
    return [type(what) for what in hand.written]


def is_shown(hand: Hand, act: str) -> bool:
    return f"show_{hand.app.page.place}" == act


def reached(closed: list[Place], number: int) -> bool:
    return len(closed) == number


def test_every_act_of_every_screen_is_tried_here() -> None:
    everywhere = {(place, act) for act in (*SHOWING, *STAYING) for place in PLACES}
    declared = {(place, act.id) for act in ACTS for place in act.places if act.id not in BY_THEMSELVES}

    assert set(DOINGS) | everywhere == declared
    assert {place for act in ACTS for place in act.places} == set(PLACES)


@pytest.mark.parametrize(("place", "act"), [pytest.param(*key, id="-".join(key)) for key in sorted(LASTING)])
async def test_an_act_says_what_it_came_to_and_writes_it_down(place: Place, act: str, tmp_path: Path) -> None:
    async with at_work(make_session(tmp_path)) as hand:
        await hand.open(place)

        wrote = await work(hand, place, DOINGS[place, act])

        assert wrote == list(DOINGS[place, act].wrote)


@pytest.mark.parametrize("place", PLACES)
async def test_acts_that_only_show_something_write_nothing(place: Place, tmp_path: Path) -> None:
    async with at_work(make_session(tmp_path)) as hand:
        for at, act in sorted(set(DOINGS) - LASTING):
            if at == place:
                await hand.open(place)

                assert await work(hand, place, DOINGS[place, act]) == []


async def test_every_screen_leads_to_every_other(tmp_path: Path) -> None:
    left = {(place, act) for place in PLACES for act in SHOWING}
    async with at_work(make_session(tmp_path)) as hand:
        while left:
            at = hand.app.page.place
            act = next((act for act in SHOWING if (at, act) in left), None)
            if act is None:
                await hand.open(next(iter(left))[0])
                continue
            left.remove((at, act))
            await hand.press(SHOWING[act])
            await hand.until(partial(is_shown, hand, act), act)


async def test_colours_keys_and_room_file_are_open_on_every_screen(tmp_path: Path) -> None:
    room_file = tmp_path / "room.toml"
    room_file.write_text(room_text(), encoding="utf-8")
    async with at_work(make_session(tmp_path), room_file=room_file) as hand:
        for place in PLACES:
            await hand.open(place)
            for doing in STAYING.values():
                assert await work(hand, place, doing) == []


async def test_q_closes_the_program_and_escape_leads_back_on_every_screen(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    async with at_work(make_session(tmp_path)) as hand:
        closed: list[Place] = []
        monkeypatch.setattr(hand.app, "exit", lambda: closed.append(hand.app.page.place))
        for number, place in enumerate(PLACES, 1):
            await hand.open(place)
            await hand.press("q")
            await hand.until(partial(reached, closed, number), "the end")
            await hand.press("escape")
            await hand.is_at("round")

        assert closed == list(PLACES)


async def test_the_program_ends_well_when_it_is_closed(tmp_path: Path) -> None:
    async with at_work(make_session(tmp_path)) as hand:
        await hand.press("q")
        await hand.until(lambda: hand.app.return_code == 0, "the end")


@pytest.mark.parametrize("place", READ)
async def test_right_and_left_scroll_what_there_is_to_read(place: Place, tmp_path: Path) -> None:
    async with at_work(make_session(tmp_path), size=(60, 20)) as hand:
        await hand.open(place)
        begin = hand.text

        await hand.press("right")
        await hand.until(lambda: hand.text != begin, "the text further down")
        await hand.press("left")
        await hand.until(lambda: hand.text == begin, "the text's beginning")


async def test_the_key_list_and_the_palette_offer_every_act_of_the_screen(tmp_path: Path) -> None:
    async with at_work(make_session(tmp_path)) as hand:
        for place in PLACES:
            await hand.open(place)
            offered = [command.title for command in hand.app.get_system_commands(hand.app.screen)]
            await hand.press("f1")
            await hand.sees("Keys", "enter or a tap does it")
            options = hand.app.screen.query_one(OptionList).options
            listed = [str(option.prompt) for option in options if not option.disabled]
            headings = [str(option.prompt) for option in options if option.disabled]
            await hand.press("escape")

            assert listed == [f"{key_text(act.key):<7}{act.help}" for act in acts_of(place) if act.id != "keys"]
            assert headings == [name for name, acts in SUBJECTS if any(place in act.places for act in acts)]
            assert offered == [act.help for act in acts_of(place)], "and nothing of the framework's own"


async def test_an_act_picked_in_the_key_list_is_done(tmp_path: Path) -> None:
    async with at_work(make_session(tmp_path)) as hand:
        await hand.press("f1")
        await hand.sees("Keys")
        listed = hand.app.screen.query_one(OptionList)
        at = next(number for number, option in enumerate(listed.options) if option.id == "show_plan")
        for _ in range(at + 1):
            if listed.highlighted != at:
                await hand.press("down")
        await hand.press("enter")
        await hand.is_at("plan")


async def test_an_act_is_found_in_the_palette_by_its_name(tmp_path: Path) -> None:
    async with at_work(make_session(tmp_path)) as hand:
        await hand.press("f3")
        await hand.sees("Search")
        await hand.press(*"missed")
        await hand.sees("what becomes of it")
        await hand.press("enter")
        await hand.is_at("missed")


@pytest.mark.parametrize("place", PLACES)
def test_a_footer_shows_six_acts_at_most_and_the_key_list_among_them(place: Place) -> None:
    shown = [act.id for act in acts_of(place) if place in act.footer]

    assert len(shown) <= 6
    assert "keys" in shown


@pytest.mark.parametrize("place", PLACES)
def test_a_footer_fits_the_narrowest_terminal_and_tells_its_acts_apart_without_colours(place: Place) -> None:
    shown = [f"{key_text(act.key)} {act.label}" for act in acts_of(place) if place in act.footer]

    assert cells(GAP.join(shown)) <= 60
    assert len(GAP) > 1


async def test_every_cell_of_an_act_in_the_footer_is_its_own_and_none_between_two_is(tmp_path: Path) -> None:
    async with at_work(make_session(tmp_path)) as hand:
        line = hand.text.splitlines()[-1]
        bottom = hand.app.size.height - 1
        footer = hand.app.screen.query_one(Footer)
        told: list[str | None] = []
        for x in range(len(line.rstrip()) + 2):
            await hand.pilot.hover(offset=(x, bottom))
            told.append(str(footer.tooltip) if footer.tooltip else None)
        acts = [act for act in acts_of("round") if "round" in act.footer]
        wanted: list[str | None] = []
        for act in acts:
            wanted += [act.help] * cells(f"{key_text(act.key)} {act.label}") + [None] * len(GAP)

        assert told == wanted

        await hand.pilot.click(offset=(line.index("keys") + len("keys") - 1, bottom))
        await hand.sees("enter or a tap does it")


@pytest.mark.parametrize("place", PLACES)
def test_no_two_acts_of_a_screen_have_the_same_key(place: Place) -> None:
    keys = [act.key for act in acts_of(place)]

    assert len(keys) == len(set(keys))


@pytest.mark.parametrize(
    ("typed", "found", "others"),
    [("wall", "a1", 5), ("rack 1 insect", "a1", 1), ("done", "q1", 0), ("wafers", "a1", 1)],
    ids=["rack", "rack and feed", "state", "feed"],
)
async def test_the_stops_are_narrowed_by_rack_feed_and_state_as_one_types(
    typed: str, found: str, others: int, tmp_path: Path
) -> None:
    async with at_work(make_session(tmp_path)) as hand:
        await hand.press("slash")
        await hand.sees("Which stops?")
        await hand.pilot.press(*(key if key != " " else "space" for key in typed))
        listed = hand.app.screen.query_one(OptionList)
        await hand.until(lambda: listed.option_count == others + 1, f"{others + 1} stops")
        await hand.press("enter")
        await hand.is_at("round")
        await hand.until(lambda: hand.app.page.current_tank == found, found)  # type: ignore[attr-defined]


async def test_closing_asks_only_where_a_text_was_begun(tmp_path: Path) -> None:
    for keys in (("s",), ("n",), ("f1",), ("t",)):
        folder = tmp_path / keys[0]
        folder.mkdir()
        async with at_work(make_session(folder)) as hand:
            await hand.press(*keys)
            await hand.until(lambda hand=hand: hand.app.screen is not hand.app.page, "a box")  # type: ignore[misc]
            await hand.press("ctrl+q")
            await hand.until(lambda hand=hand: hand.app.return_code == 0, "the end")  # type: ignore[misc]


async def test_every_sign_of_the_plan_is_explained_beside_it(tmp_path: Path) -> None:
    async with at_work(make_session(tmp_path), size=(120, 60)) as hand:
        await hand.open("plan")
        await hand.press("i")
        await hand.sees("Signs of the plan", "rest day", "other stages live", "nothing is given", "d Nettle dust")
