"""The screens look as they did, and say what matters at every size."""

from __future__ import annotations

import asyncio
from pathlib import Path
from xml.etree import ElementTree

import pytest
from rich.cells import cell_len

from tests.pictures import FOLDER as README
from tests.pictures import SCREENS as README_SCREENS
from tests.tui.hand import at_work
from tests.tui.picture import picture
from tests.tui.pictures import AWAY_SEEN, CHORES_SEEN, DIALOGS, READ, SCREENS, SIZES, STORED, VIEWS, pictures, stored
from tests.tui.rooms import make_session
from tui.acts import Place

Size = tuple[int, int]
LARGE: Size = (200, 60)
SIZE_IDS = [f"{width}x{height}" for width, height in SIZES]
MATTERS: dict[Place, tuple[str, ...]] = {
    "round": ("1 of 6 stops done", "a1 Moss corner", "5 mL", "Nettle dust", "1 pellet", "Insect wafers", "2 due"),
    "prepare": ("6 servings in 5 tanks", "Nettle dust: 90 mg", "Plain pellets"),
    "lookback": ("11:02", "q1", "Plain pellets", "1 none", "2 some", "3 most"),
    "missed": ("Sat 21 Nov", "4 servings", "Mon 23 Nov", "a2", "today", "x let go"),
    "flags": ("high", "a2", "60 shrimplets without fine feed", "Do: Give Nettle dust"),
    "plan": ("min", "a1", "q1", "Nettle dust: ½ scoop (30 mg)", "Nov"),
    "room": ("Wall rack", "a1", "2 late", "hold", "done", "Nettle dust: due"),
    "tank": ("a1 Moss corner", "60 shrimplets", "Nettle dust"),
    "expected": ("b2", "fff####", "seen berried", "Before a hatch"),
    "changes": ("a1 Moss corner and its rack", "In several tanks with trouble", "missed in a1"),
    "survival": ("Nothing can be concluded", "b1: 1 hatch", "●", "not counted"),
    "lines": ("2026", "Amber: b1 (generation 2)", "1 hatch"),
    "counting": ("a1", "shrimplets", "60", "adults", "40", "Type the number"),
    "away": ("No leave plan has begun",),
    "reading": ("a1", "temperature", "TDS", "Type the value", "o: other"),
    "water": ("a1", "q1", "never read"),
    "tank_water": ("a1 Moss corner", "Nothing was read here yet", "What to add"),
    "help": ("Words", "table", "part"),
}


@pytest.fixture(scope="module", name="seen")
def _seen(tmp_path_factory: pytest.TempPathFactory) -> dict[Size, dict[str, str]]:
    """Every screen at every size."""
    return {size: asyncio.run(pictures(tmp_path_factory.mktemp("seen"), size)) for size in (*SIZES, LARGE)}


@pytest.mark.parametrize("size", SIZES, ids=SIZE_IDS)
def test_every_screen_looks_as_it_did(size: Size, seen: dict[Size, dict[str, str]]) -> None:
    changed = {name: text for name, text in seen[size].items() if stored(name, size).read_text("utf-8") != text}

    assert changed == {}, "make them again with python -m tests.tui.pictures, and look at what changed"


def test_no_picture_is_stored_that_is_not_made() -> None:
    made = {
        stored(name, size) for name in (*SCREENS, *VIEWS, *READ, *DIALOGS, *AWAY_SEEN, *CHORES_SEEN) for size in SIZES
    }

    assert set(STORED.glob("*")) == made


@pytest.mark.parametrize("size", [*SIZES, LARGE], ids=[*SIZE_IDS, "200x60"])
def test_what_matters_is_on_every_screen_of_this_size(size: Size, seen: dict[Size, dict[str, str]]) -> None:
    for place, texts in MATTERS.items():
        assert [text for text in ("1 of 6 stops done", "F1 keys", *texts) if text not in seen[size][place]] == []
    assert all(cell_len(line) <= size[0] for text in seen[size].values() for line in text.splitlines())


async def test_a_screen_that_becomes_narrow_still_says_what_matters(tmp_path: Path) -> None:
    async with at_work(make_session(tmp_path), (120, 40)) as hand:
        for place, texts in MATTERS.items():
            await hand.open(place)
            for size in ((60, 20), (120, 40)):
                await hand.pilot.resize_terminal(*size)
                await hand.sees("1 of 6 stops done", "F1 keys", *texts)


async def test_without_colour_the_screens_say_the_same(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("NO_COLOR", "1")
    async with at_work(make_session(tmp_path)) as hand:
        assert picture(hand.app) == stored("round", (80, 24)).read_text("utf-8")


def test_the_readme_s_pictures_are_those_that_are_made_and_fetch_nothing_from_elsewhere() -> None:
    texts = {path.stem: path.read_text("utf-8") for path in README.glob("*.svg")}

    assert set(texts) == set(README_SCREENS.values())
    for text in texts.values():
        assert text.count("http") == 1, "the name of the format"
        assert "url(" not in text.replace("url(#", "")
        assert ElementTree.fromstring(text).tag.endswith("svg")


@pytest.mark.parametrize("size", SIZES, ids=SIZE_IDS)
def test_three_servings_and_two_chores_fit_at_a_stop(size: Size, seen: dict[Size, dict[str, str]]) -> None:
    lines = seen[size]["chores-stop"].split("\n")
    wanted = ("Insect wafers", "Nettle dust mix", "Plain pellets", "Wipe the front glass", "Top off")

    assert all(any(f"{number}  " in line and name in line for line in lines) for number, name in enumerate(wanted, 1))
