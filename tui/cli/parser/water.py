"""Commands for the water: recording what was read, and printing what the readings say."""

from __future__ import annotations

from argparse import ArgumentTypeError
from datetime import time
from pathlib import Path

from schedules.room.water.quantities import QUANTITIES, Quantity
from tui.cli.parser.commands import Commands
from tui.cli.parser.values import day


def add_water(commands: Commands) -> None:
    """Add the commands for the water."""
    text = "record what was read in a tank's water, or all readings of a meter's CSV file"
    read = commands.add("read", text, own=("--csv",))
    read.add_argument("tank", nargs="?", metavar="TANK")
    read.add_argument(
        "values",
        nargs="*",
        type=_value,
        default=[],
        metavar="QUANTITY=VALUE",
        help=f"in the room's units, with a point or a comma: {', '.join(QUANTITIES)}",
    )
    read.add_argument("--csv", type=Path, metavar="FILE", help="a meter's file: header with tank, date and quantities")
    read.add_argument("--on", type=day, metavar="DATE", help="the day it was read; else today")
    read.add_argument("--at", type=_time, metavar="HH:MM", help="the time of day it was read")
    read.add_argument("--anyway", action="store_true", help="record it even where a value looks like a slip")
    water = commands.add(
        "water", "print what was last read, how it changes, and what that shows; records nothing", json=True
    )
    water.add_argument("tank", nargs="?", metavar="TANK", help="one tank; else all")
    water.add_argument("--sources", action="store_true", help="print each formula with its source")


def _value(text: str) -> tuple[Quantity, float]:
    """A quantity, an equals sign and a number."""
    name, equals, value = text.partition("=")
    known = next((quantity for quantity in QUANTITIES if quantity == name.strip().casefold()), None)
    if not equals or known is None:
        allowed = ", ".join(QUANTITIES)
        raise ArgumentTypeError(f'"{text}" is not QUANTITY=VALUE, such as tds=180; quantities are {allowed}')
    try:
        number = float(value.replace(",", "."))
    except ValueError:
        raise ArgumentTypeError(f'"{text}": "{value}" is not a number') from None
    if not abs(number) <= 1e6:
        raise ArgumentTypeError(f'"{text}": "{value}" is not a number up to 1000000')
    return known, number


def _time(text: str) -> str:
    """A time of day."""
    try:
        return time.fromisoformat(text if len(text.partition(":")[0]) > 1 else f"0{text}").strftime("%H:%M")
    except ValueError:
        raise ArgumentTypeError(f'"{text}" is no time of day; write HH:MM, such as 07:40') from None
