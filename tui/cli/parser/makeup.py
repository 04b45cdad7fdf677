"""Commands for make-up water: what a tank needs, what a rack needs, and what was really poured in."""

from __future__ import annotations

from argparse import ArgumentTypeError
from typing import Final

from tui.cli.parser.commands import Commands
from tui.cli.parser.values import day, number

MM_PER_INCH: Final = 25.4
"""Exact: the international inch, 1959."""
MOST: Final = 100_000
Amount = tuple[str, float]


def add_make_up(commands: Commands) -> None:
    """Add the commands for make-up water."""
    top_off = commands.add("topoff", "print what to pour into a tank and why; records nothing", json=True)
    top_off.add_argument("tank", metavar="TANK")
    gone = top_off.add_mutually_exclusive_group()
    gone.add_argument("--drop", type=_drop, metavar="MM", help="how far the level fell, mm, or inches as 0.5in")
    gone.add_argument("--litres", type=number(0, 20_000), metavar="L", help="litres that are gone")
    gone.add_argument("--gallons", type=number(0, 20_000), metavar="G", help="US gallons that are gone")
    make_up = commands.add("makeup", "print the make-up water of a rack or the whole room as one list", json=True)
    make_up.add_argument("--rack", metavar="RACK", help="one rack; else all")
    pour = commands.add("pour", "record what was poured into a tank; rackround undo takes it back")
    pour.add_argument("tank", metavar="TANK")
    pour.add_argument(
        "waters",
        nargs="*",
        type=_amount,
        default=[],
        metavar="WATER=VOLUME",
        help="a water of the room, or pure, and how much of it, in litres or the room's US gallons",
    )
    pour.add_argument(
        "--salt",
        type=_amount,
        action="append",
        default=[],
        metavar="SALT=GRAMS",
        help="a salt dissolved in it",
    )
    pour.add_argument("--change", action="store_true", help="as much was taken out before: a change of water")
    pour.add_argument("--on", type=day, metavar="DATE", help="the day it was poured in; else today")
    pour.add_argument("--anyway", action="store_true", help="record it even where an amount looks like a slip")


def _amount(text: str) -> Amount:
    """A name, an equals sign and a number."""
    name, equals, value = text.rpartition("=")
    if not equals or not name:
        raise ArgumentTypeError(f'"{text}" is not NAME=NUMBER, such as pure=2.5')
    return name, number(0, MOST)(value)


def _drop(text: str) -> float:
    """Millimetres, also written as inches."""
    if text.endswith("in"):
        return number(0, 40)(text.removesuffix("in")) * MM_PER_INCH
    return number(0, 1000)(text.removesuffix("mm"))
