"""What the demo's animals do, found at a real terminal, and a hatch entered there."""

from __future__ import annotations

import shutil
from pathlib import Path
from typing import Final

from schedules.room_file import load_room
from tests.pty.demo import Demo, Keeper

TANK: Final = "w8"
"""A tank of juveniles and adults that expects nothing."""
TOMORROW: Final = "2026-11-26T07:10"


def test_a_visitor_finds_the_expected_and_the_early_hatch_the_bad_cohort_and_what_changed_before_three_died(
    demo: Demo,
) -> None:
    with demo.open() as terminal:
        keeper = Keeper(demo, terminal)
        keeper.sees_done(0)
        terminal.press("E")
        terminal.shows("expected hatches", "l6", "now, from Wed 25 Nov", "Before a hatch: guard the filter's intake")

        terminal.press("S")
        terminal.shows("how many lived", "l13: 1 hatch")
        terminal.press("o", "o", "o", "o", "o")
        terminal.shows("Side by side: ways of feeding", "under half of the planned fine feed given: 1 hatch")

        terminal.press("f")
        terminal.shows("3 found dead within 2 days")
        rows = [line for line in terminal.lines if line.startswith("high")]
        at = next(number for number, line in enumerate(rows) if "found dead" in line)
        terminal.press(*["down"] * at)
        terminal.shows("w12 Mixed culls", "enter shows it")
        terminal.press("enter")
        terminal.shows("what changed", "15 adults new in w12 from the club's fair", "new sponge in the filter")
        terminal.press("r")
        terminal.shows("morning round")

        keeper.jump("w6", "w6")
        terminal.press("enter")
        terminal.shows("a tank", "30 shrimplets, 18 juveniles", "fine feed after the hatch")
        terminal.press("q")
        assert terminal.ended() == 0


def test_a_hatch_takes_three_key_presses_and_tomorrow_s_round_feeds_it(demo: Demo, tmp_path: Path) -> None:
    unseen = Demo(tmp_path / "unseen" / "kept")
    shutil.copytree(demo.folder, unseen.folder)
    assert fine_feeds(unseen) == []
    with demo.open() as terminal:
        keeper = Keeper(demo, terminal)
        keeper.sees_done(0)
        keeper.jump(TANK, TANK)
        presses = terminal.presses
        terminal.press("c")
        terminal.shows(f"{TANK}: what was seen?")
        terminal.press("1")
        terminal.shows("how many?")
        terminal.press("4")
        terminal.shows(f"{TANK}: about 30 hatched; G gives", "u takes it back")
        assert terminal.presses - presses == 3
        keeper.quit()

    with demo.open(now=TOMORROW) as terminal:
        keeper = Keeper(demo, terminal)
        keeper.sees_done(0)
        keeper.jump(TANK, TANK)
        terminal.shows("30 shrimplets, 25 juveniles", fine_feeds(demo)[0].partition(" (")[0])
        keeper.quit()
    assert len(fine_feeds(demo)) == 1


def fine_feeds(demo: Demo) -> list[str]:
    """The fine feeds due tomorrow in the tank, by name."""
    feeds = load_room(demo.room_file).feeds
    return [
        feeds[serving["feed"]].name
        for stop in demo.printed(TOMORROW)
        for serving in stop["servings"]
        if stop["tank"] == TANK and feeds[serving["feed"]].fine
    ]
