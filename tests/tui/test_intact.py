"""Whatever the keeper calls things, the screens stay whole and show it as it was written."""

from __future__ import annotations

import asyncio
import tempfile
from pathlib import Path
from typing import Final

from hypothesis import Phase, example, given, settings
from hypothesis import strategies as st
from rich.cells import cell_len

from schedules.formatting import clean
from schedules.ledger import Noted
from tests.tui.hand import Hand, at_work
from tests.tui.rooms import NOW, TANKS, TODAY, make_session, quoted, room_text
from tui.acts import Place

LONGEST: Final = 200
SURE: Final = 4
"""Cells that the narrowest place for a text has."""
FAST: Final = (Phase.explicit, Phase.reuse, Phase.generate)
"""Without making a failing example smaller: each one takes seconds, and all of its texts are nasty alike."""
NASTY: Final = (
    "[/]",
    "[bold red]Tank[/bold]",
    "[@click=app.quit]leave[/]",
    "50% [RO] mix \\[x]",
    "a=[1,2] $primary {} %s",
    "\\\\ back\\slash \\",
    "🦐🦐 𝔱𝔞𝔫𝔨 👩🏽‍🔬 é",
    "חדר שרימפס [1]",
    "مربى الروبيان",
    "水槽一号 ｗｉｄｅ",
    "[" * LONGEST,
    "x" * LONGEST,
    "🦐" * LONGEST,
)
PIECES: Final = st.sampled_from(
    (
        "[",
        "]",
        "[/",
        "[b]",
        "\\",
        "\\[",
        "$x",
        "🦐",
        "é",
        "ש",
        "س",
        "水",
        "a",
        "Tank",
        " ",
        "'",
        '"',
        "{",
        "\u200d",
        "\t",
    )
)
TEXTS: Final = (
    st.one_of(
        st.sampled_from(NASTY),
        st.lists(PIECES, min_size=1, max_size=30).map("".join),
        st.text(st.characters(exclude_categories=["Cs", "Cc", "Cn", "Co"]), min_size=1, max_size=LONGEST),
    )
    .map(clean)
    .filter(bool)
)
OTHERS: Final[tuple[Place, ...]] = ("prepare", "lookback", "missed", "flags", "plan", "room", "tank", "help")


def begin(text: str) -> str:
    """The first few cells of a text, which are on the screen wherever the text is."""
    return next(text[:end] for end in range(len(text), -1, -1) if cell_len(text[:end]) <= SURE).strip()


async def walk(folder: Path, names: list[str], feed: str, keeper: str, note: str, size: tuple[int, int]) -> None:
    """See a room of such names on every screen, skip with such a reason, and write such a note."""
    text = room_text(dict(zip((tank for tank, _ in TANKS), names, strict=True)))
    text = text.replace('"Nettle dust"', quoted(feed)).replace('"Mara"', quoted(keeper))
    session = make_session(folder, text, keeper)
    session.ledger.append([Noted("a1", note)], day=TODAY, at=NOW, by=keeper)
    session.open()
    async with at_work(session, size) as hand:
        assert begin(names[0]) in hand.text
        assert begin(keeper) in hand.text
        for place in OTHERS:
            await hand.open(place)
            assert len(hand.text.splitlines()) == size[1]
            if place == "room":
                assert all(begin(name) in hand.text for name in names)
            if place == "tank":
                assert begin(note) in whole(hand)
        await type_reason(hand)


def whole(hand: Hand) -> str:
    """All there is to read on the present screen, also what is out of view."""
    return "\n".join(str(widget.render()) for widget in hand.app.page.query("#text"))


async def type_reason(hand: Hand) -> None:
    """Skip with a reason in brackets."""
    await hand.open("round")
    await hand.press("down", "s")
    await hand.sees("another reason")
    await hand.press("6")
    await hand.sees("why, in your own words?")
    await hand.press(*"[/x]", "enter")
    await hand.sees("[/x]")


@settings(max_examples=2, deadline=None, phases=FAST)
@example(names=list(NASTY[:6]), feed=NASTY[2], keeper=NASTY[1], note=NASTY[0], size=(120, 40))
@example(names=list(NASTY[6:12]), feed=NASTY[7], keeper=NASTY[8], note=NASTY[12], size=(80, 24))
@given(
    names=st.lists(TEXTS, min_size=len(TANKS), max_size=len(TANKS)),
    feed=TEXTS,
    keeper=TEXTS.filter(lambda text: text != "Ben"),
    note=TEXTS,
    size=st.sampled_from(((60, 20), (80, 24), (120, 40))),
)
def test_any_name_and_note_leaves_every_screen_whole(
    names: list[str], feed: str, keeper: str, note: str, size: tuple[int, int]
) -> None:
    with tempfile.TemporaryDirectory() as folder:
        asyncio.run(walk(Path(folder), names, feed, keeper, note, size))
