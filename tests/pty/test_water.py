"""A rack's water read in a real terminal, with the keys counted, and what a newcomer finds of the demo's water."""

from __future__ import annotations

from contextlib import closing
from typing import Final

from schedules.ledger import Reading
from schedules.ledger.stores.sqlite import open_ledger
from schedules.room_file import load_room
from tests.pty.demo import Demo, Keeper

MOST_KEYS: Final = 6
"""For one value, Enter included."""
VALUES: Final = 48 * 2
"""48 tanks, two quantities each,"""
PACE: Final = 2
"""typed at two keys a second,"""
MINUTES: Final = 4
"""take so many minutes at most."""


FEW_KEYS: Final = 12
"""For somebody who sees the program for the first time."""


def test_a_newcomer_finds_the_rack_with_the_wrong_batch_and_the_drifting_tank(demo: Demo) -> None:
    with demo.open(120, 40) as terminal:
        keeper = Keeper(demo, terminal)
        keeper.sees_done(0)
        presses = terminal.presses
        terminal.press("H")
        terminal.shows("n1", "TDS moved in 8 tanks of rack north at once", "make-up water")
        rows = [line.split()[1] for line in terminal.lines if line.startswith(("high", "medium", "low"))]
        assert rows[0] == "n1" and "l4" in rows
        terminal.press(*["down"] * rows.index("l4"))
        terminal.find(r"l4 .*: .*TDS has moved away from its own level of \d+ mg/L")
        terminal.press("enter")
        terminal.shows("a tank's water", "Found in the last two weeks", "TDS has moved away from its own level")
        terminal.press("g")
        terminal.shows("TDS, mg/L", "● l4", "· others of rack long", "w water changed")
        assert terminal.presses - presses <= FEW_KEYS
        terminal.press("escape")
        terminal.shows("weight  tank")
        keeper.quit()


def test_a_rack_is_read_with_few_enough_keys_and_a_slip_is_asked_about_without_losing_the_place(demo: Demo) -> None:
    room = load_room(demo.room_file)
    rack = room.racks[0]
    read: dict[str, tuple[str, str]] = {}
    with demo.open() as terminal:
        keeper = Keeper(demo, terminal)
        keeper.sees_done(0)
        presses = terminal.presses
        terminal.press("R")
        terminal.shows("reading a rack", f"{room.tanks[rack.tanks[0]].label}, temperature")
        for number, tank in enumerate(rack.tanks):
            read[tank] = (f"2{number % 3}.{5 + number % 4}", f"1{number % 4 + 5}{number % 5}")
            celsius, solids = read[tank]
            terminal.shows(f"{tank} ", ", temperature")
            terminal.press(*celsius.replace(".", ","), "enter")
            terminal.find(rf"{tank} +temperature .*{float(celsius):g} °C")
            terminal.press(*solids, "enter")
            terminal.find(rf"{tank} +TDS .*{solids} mg/L")
        values = 2 * len(rack.tanks)
        keys = terminal.presses - presses - 1

        terminal.press("1", "8", "7", "0", "enter")
        terminal.shows("1870? enter keeps it", "may be meant")
        terminal.press("1", "8", "7", "enter")
        terminal.find(rf"{rack.tanks[-1]} +TDS .*187 mg/L")
        terminal.press("u")
        terminal.shows("taken back: TDS 187")
        terminal.press("escape")
        terminal.shows("morning round")
        keeper.quit()

    assert keys <= MOST_KEYS * values
    assert keys / values * VALUES <= MINUTES * 60 * PACE
    with closing(open_ledger(demo.folder / "demo.ledger.db")) as ledger:
        today = [entry.what for entry in ledger.of_kind("reading") if entry.day.isoformat() == "2026-11-25"]
    written = {(what.tank, what.quantity): what.value for what in today if isinstance(what, Reading)}
    for tank, (celsius, solids) in read.items():
        assert written[tank, "temperature"] == float(celsius)
        assert (tank, "tds") in written or tank == rack.tanks[-1], solids
