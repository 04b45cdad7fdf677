"""Keys sent faster than a box opens or closes: none reaches the screen that lies below."""

from __future__ import annotations

from pathlib import Path

import pytest
from textual.command import CommandList
from textual.events import Paste
from textual.widgets.option_list import Option

from schedules.ledger import Came, Noted, Observed, Reason, Served, Sighting, Skipped, Undone
from tests.tui.hand import Hand, at_work
from tests.tui.rooms import make_session
from tui.screens.dialogs.choose import Choose

BURSTS = {
    "a reason and a serving": ("s 1 1", "skipped, leftovers lying", [Skipped]),
    "a reason in own words": ("s 6 h e a t enter enter", "skipped, heat", [Skipped, Skipped]),
    "a note": ("n s 1 space enter", "a1: noted", [Noted]),
    "a note, then a stop": ("n o k enter space", "a1 done: 2 given", [Noted, Served, Served]),
    "an amount that is typed": ("a 2 end enter 2 , 5 enter", "of Nettle dust given", [Served]),
    "leftovers": ("l 1 2", "leftovers of Plain pellets: some", [Observed]),
    "how they came": ("d 1 3", "came to Plain pellets: nobody", [Came]),
    "another feed": ("g 2", "of Walnut leaf given", [Served]),
    "animals": ("c 1 4", "about 30 shrimplets hatched", [Sighting]),
    "a stop and back": ("space u u", "taken back", [Served, Served, Undone]),
    "a tank by its name": ("t f e r n enter 1", "of Insect wafers given", [Served]),
    "a stop by its state": ("slash h o l d enter z", "b1 comes again", []),
    "keys read and closed": ("f1 escape 1", "of Insect wafers given", [Served]),
    "an explanation read and closed": ("i escape 1", "of Insect wafers given", [Served]),
    "a whole screen and back": ("k escape 1", "of Insect wafers given", [Served]),
    "the second line of a list": ("f down down x", "seen, listed last", None),
    "counting a rack": ("C 5 5 enter 3 5 enter", "35 adults counted in a1", [Sighting, Sighting]),
    "another keeper": ("y 2 1", "of Insect wafers given", [Served]),
}
"""Keys sent at once, what the screen says then, the kinds of entries written."""


@pytest.mark.parametrize("burst", BURSTS)
async def test_keys_sent_at_once_do_what_they_do_one_by_one(burst: str, tmp_path: Path) -> None:
    keys, said, kinds = BURSTS[burst]
    fast, slow = tmp_path / "fast", tmp_path / "slow"
    fast.mkdir()
    slow.mkdir()
    async with at_work(make_session(fast), size=(120, 40)) as hand:
        await hand.press(*keys.split())
        await hand.sees(said)
        written = hand.written
    async with at_work(make_session(slow), size=(120, 40)) as hand:
        await one_by_one(hand, keys)
        await hand.sees(said)
        assert hand.written == written
    assert kinds is None or [type(what) for what in written] == kinds


async def one_by_one(hand: Hand, keys: str) -> None:
    """Press keys; before each one the dashboard has come to rest and takes keys."""
    for key in keys.split():
        await hand.press(key)
        await hand.until(lambda: not hand.app.keys_wait, "rest")
        await hand.pilot.pause()


async def test_the_reason_that_is_typed_ahead_is_the_one_recorded(tmp_path: Path) -> None:
    async with at_work(make_session(tmp_path)) as hand:
        await hand.press("down", "s", "2")
        await hand.sees("skipped, water cloudy")
        assert hand.written == [Skipped("a2", "dust", "morning", Reason.other("water cloudy"))]


async def test_a_text_pasted_while_its_box_opens_is_in_it(tmp_path: Path) -> None:
    async with at_work(make_session(tmp_path)) as hand:
        hand.app.simulate_key("n")
        hand.app.post_message(Paste("a shell"))
        await hand.press("enter")
        await hand.sees("a1: noted")
        assert hand.written == [Noted("a1", "a shell")]


async def test_paging_in_the_list_of_acts_while_it_takes_no_room_does_nothing(tmp_path: Path) -> None:
    async with at_work(make_session(tmp_path)) as hand:
        await hand.press("f3", "c")
        await hand.until(lambda: bool(hand.app.screen.query(CommandList)), "the list of acts")
        acts = hand.app.screen.query_one(CommandList)
        await hand.until(lambda: acts.option_count > 1, "acts")
        acts.styles.display = "none"
        await hand.until(lambda: not acts.scrollable_content_region, "no room")
        acts.clear_options()
        acts.add_option(Option("an act"))
        acts.highlighted = 0
        await hand.press("pageup", "pagedown", "escape")
        await hand.is_at("round")


async def test_a_box_left_by_another_screen_keeps_no_keys_back(tmp_path: Path) -> None:
    async with at_work(make_session(tmp_path)) as hand:
        await hand.press("s")
        await hand.until(lambda: isinstance(hand.app.screen, Choose), "the box")
        hand.app.show("flags")
        await hand.press("escape", "1")
        await hand.sees("of Insect wafers given")
        assert [type(what) for what in hand.written] == [Served]


async def test_a_key_held_down_counts_once_however_long_each_mark_takes(tmp_path: Path) -> None:
    now = [100.0]
    async with at_work(make_session(tmp_path), tick=lambda: now[0]) as hand:
        finish = hand.app.session.finish

        def slow_finish(*stop: object) -> object:
            now[0] += 5.0
            return finish(*stop)  # type: ignore[arg-type]

        hand.app.session.finish = slow_finish  # type: ignore[assignment, method-assign]
        await hand.press(*["space"] * 5)
        await hand.until(lambda: not hand.app.keys_wait, "rest")
        await hand.sees("2 of 6 stops done")
