"""When the dashboard cannot open yet: a screen that says why, and the way out."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from textual.app import App

from schedules.ledger import LedgerFault, LostEnd
from schedules.room import Room
from schedules.room_file import RoomFileFaults, load_room
from tests.tui.hand import wait
from tests.tui.picture import picture
from tests.tui.rooms import room_text
from tui.screens.start_up import FaultStartUp, FirstStartUp

SIZES = ((60, 20), (80, 24), (120, 40))


def faults_of(opening: Callable[[], Room]) -> RoomFileFaults:
    with pytest.raises(RoomFileFaults) as raised:
        opening()
    return raised.value


async def sees(app: App[Any], *texts: str) -> None:
    await wait(lambda: all(text in picture(app) for text in texts), f"{texts}", lambda: picture(app))


@pytest.mark.parametrize("size", SIZES, ids=["60x20", "80x24", "120x40"])
async def test_a_faulty_room_file_is_a_screen_with_every_fault_and_opens_once_corrected(
    size: tuple[int, int], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    room_file = Path("[room].toml")
    room_file.write_text(room_text().replace("volume = 40", "volume = 0", 2), encoding="utf-8")

    def opening() -> Room:
        return load_room(room_file)

    screen: FaultStartUp[Room] = FaultStartUp(opening, faults_of(opening))
    async with screen.run_test(size=size) as pilot:
        await sees(screen, "The room file has 2 faults", "[room].toml", "volume", "r try again")
        room_file.write_text(room_text().replace("volume = 40", "volume = 0", 1), encoding="utf-8")
        await sees(screen, "The room file has a fault")
        room_file.write_text(room_text(), encoding="utf-8")
        await pilot.press("r")
        await wait(lambda: screen.return_value is not None, "the room", lambda: picture(screen))

    assert screen.return_value is not None
    assert screen.return_value.name == "Cellar by the stairs"


async def test_a_ledger_that_cannot_be_opened_is_told_with_the_way_out_and_can_be_given_up() -> None:
    def opening() -> Room:
        raise LedgerFault("Another program holds it [/locked].")

    screen: FaultStartUp[Room] = FaultStartUp(opening, LedgerFault("Another program holds it [/locked]."))
    async with screen.run_test(size=(80, 24)) as pilot:
        await sees(screen, "The ledger cannot be opened", "[/locked]", "opens by itself")
        await pilot.press("r")
        await pilot.press("q")
        await wait(lambda: screen.return_code == 0, "the end", lambda: picture(screen))

    assert screen.return_value is None


async def test_a_ledger_that_lost_its_end_stays_on_the_screen_until_a_keeper_accepts_it() -> None:
    accepted: list[bool] = []

    def opening() -> str:
        if not accepted:
            raise LostEnd("5 entries are missing at its end.", 5)
        return "opened"

    screen: FaultStartUp[str] = FaultStartUp(
        opening, LostEnd("5 entries are missing at its end.", 5), lambda: accepted.append(True)
    )
    async with screen.run_test(size=(80, 24)) as pilot:
        await sees(screen, "The end of the ledger is missing", "5 entries are missing", "go on without them")
        assert "lost" not in picture(screen)
        await pilot.press("r")
        await sees(screen, "5 entries are missing")
        assert screen.return_value is None
        await pilot.press("a")
        await wait(lambda: screen.return_value is not None, "the opening", lambda: picture(screen))


async def test_another_fault_of_the_ledger_cannot_be_accepted() -> None:
    def opening() -> str:
        raise LedgerFault("Another program holds it.")

    screen: FaultStartUp[str] = FaultStartUp(opening, LedgerFault("Another program holds it."), pytest.fail)
    async with screen.run_test(size=(80, 24)) as pilot:
        await sees(screen, "The ledger cannot be opened")
        assert "go on without them" not in picture(screen)
        await pilot.press("a")
        await sees(screen, "Another program holds it.")


@pytest.mark.parametrize(
    ("keys", "choice"),
    [
        (("d",), "demo"),
        (("s",), "starter"),
        (("tab", "enter"), "demo"),
        (("tab", "down", "enter"), "starter"),
        (("q",), None),
        (("escape",), None),
    ],
    ids=["d", "s", "enter", "down-enter", "q", "escape"],
)
async def test_without_a_room_file_the_demo_and_a_starter_are_offered(
    keys: tuple[str, ...], choice: str | None
) -> None:
    screen = FirstStartUp()
    async with screen.run_test(size=(60, 20)) as pilot:
        await sees(screen, "demo", "starter", "ROOM.toml")
        await pilot.press(*keys)
        await wait(lambda: screen.return_code == 0, "the choice", lambda: picture(screen))

    assert screen.return_value == choice
