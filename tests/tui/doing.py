"""What every act of every screen comes to: the keys pressed, what the screen says, what is written down.

The room is the one of `rooms`; each case starts at a freshly opened dashboard, at its screen.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from schedules.ledger import (
    Acknowledged,
    Came,
    Delivered,
    Noted,
    Observed,
    Opened,
    Reading,
    Served,
    Sighting,
    Skipped,
    Undone,
    WaterAdded,
    WaterChanged,
    Weighed,
    What,
)
from tui.acts import Place

Step = tuple[str, str]
"""Keys with blanks between them, and a text that the screen then shows."""


@dataclass(frozen=True)
class Doing:
    """Steps, the kinds of entries they write, the screen they end at (None: the one they began at).

    `lasting` ones change what the dashboard shows from then on, even if they write nothing.
    """

    steps: Sequence[Step]
    wrote: Sequence[type[What]] = ()
    ends: Place | None = None
    lasting: bool = False


ONE: Final = Doing([("1", "takes it back")], [Served])
SKIP: Final = Doing(
    [("s", "why is it left out?"), ("2", "leave out what?"), ("enter", "skipped, water cloudy")],
    [Skipped, Skipped],
)
LEFTOVERS: Final = Doing(
    [("l", "leftovers of what?"), ("1", "is lying?"), ("2", "leftovers of Plain pellets: some")], [Observed]
)
CAME: Final = Doing(
    [("d", "they came to what?"), ("1", "how did they come"), ("3", "came to Plain pellets: nobody")], [Came]
)
AMOUNT: Final = Doing(
    [("a", "another amount of what?"), ("1", "how much Insect wafers?"), ("1", "of Insect wafers given")], [Served]
)
EXTRA: Final = Doing([("g", "give what?"), ("2", "of Walnut leaf given")], [Served])
ANIMALS: Final = Doing(
    [("c", "a1: what was seen?"), ("1", "a hatch: how many?"), ("4", "about 30 shrimplets hatched in a1")], [Sighting]
)
NOTE: Final = Doing([("n", "a1: note"), ("s h e l l enter", "a1: noted")], [Noted])
UNDO: Final = Doing([("u", "Take back what?"), ("u", "taken back: note about a2")], [Undone])
READ: Final = Doing([("R", "a1 Moss corner, temperature")], ends="reading")
WATER: Final = Doing([("T", "Nothing was read here yet")], ends="tank_water")
TANK: Final = Doing([("enter", "The last 28 days")], ends="tank")

DOINGS: Final[dict[tuple[Place, str], Doing]] = {
    ("round", "finish"): Doing([("space", "a1 done: 2 given")], [Served, Served]),
    ("round", "one"): ONE,
    ("tank", "one"): ONE,
    ("round", "skip"): SKIP,
    ("tank", "skip"): SKIP,
    ("round", "leftovers"): LEFTOVERS,
    ("tank", "leftovers"): LEFTOVERS,
    ("round", "came"): CAME,
    ("tank", "came"): CAME,
    ("lookback", "left_none"): Doing([("1", "leftovers of Plain pellets: none")], [Observed]),
    ("lookback", "came_fast"): Doing([("4", "came to Plain pellets: fast")], [Came]),
    ("lookback", "came_slowly"): Doing([("5", "came to Plain pellets: slowly")], [Came]),
    ("lookback", "came_nobody"): Doing([("6", "came to Plain pellets: nobody")], [Came]),
    ("lookback", "left_some"): Doing([("2", "leftovers of Plain pellets: some")], [Observed]),
    ("lookback", "left_most"): Doing([("3", "leftovers of Plain pellets: most")], [Observed]),
    ("missed", "give_now"): Doing([("down g", "of Nettle dust given")], [Served]),
    ("missed", "let_go"): Doing([("x", "why is it let go?"), ("1", "4 servings of Sat 21 Nov let go")], [Skipped] * 4),
    ("flags", "aside"): Doing(
        [
            ("x", "seen, listed last"),
            ("down " * 9, "seen by Mara; x takes that back"),
            ("x", "among the others again"),
        ],
        [Acknowledged, Undone],
    ),
    ("round", "undo"): UNDO,
    ("tank", "undo"): UNDO,
    ("lookback", "undo"): UNDO,
    ("missed", "undo"): UNDO,
    ("flags", "undo"): UNDO,
    ("round", "amount"): AMOUNT,
    ("tank", "amount"): AMOUNT,
    ("round", "extra"): EXTRA,
    ("tank", "extra"): EXTRA,
    ("round", "animals"): ANIMALS,
    ("tank", "animals"): ANIMALS,
    ("round", "for_young"): Doing([("G", "no hatch was seen here today")]),
    ("tank", "for_young"): Doing([("G", "no hatch was seen here today")]),
    ("round", "note"): NOTE,
    ("tank", "note"): NOTE,
    ("plan", "why"): Doing([("i", "Why, and why not"), ("escape", "a1 Moss corner")]),
    ("round", "reckon"): Doing([("i", "how the amounts come about"), ("escape", "Nettle dust mix")]),
    ("tank", "reckon"): Doing([("i", "how the amounts come about"), ("escape", "Nettle dust mix")]),
    ("round", "later"): Doing([("z", "a1 comes again at the end of the round"), ("", "a2 Long slate")], lasting=True),
    ("round", "jump"): Doing([("t", "Which tank?"), ("f e r n enter", "a3 Fern and root")]),
    ("round", "find_stop"): Doing([("slash", "Which stops?"), ("h o l d enter", "b1 Amber, line two")], lasting=True),
    ("round", "all_stops"): Doing([("slash", "Which stops?"), ("h o l d enter", "esc lists all"), ("escape", "a2 ")]),
    ("flags", "arithmetic"): Doing([("enter", "enter, space or esc closes"), ("escape", "Do:")]),
    ("missed", "unfold"): Doing([("enter", "at most 3"), ("enter", "opens it")]),
    ("round", "open_tank"): TANK,
    ("lookback", "open_tank"): TANK,
    ("plan", "open_tank"): TANK,
    ("room", "open_tank"): TANK,
    ("round", "count_rack"): Doing([("C", "a1 Moss corner, shrimplets")], ends="counting"),
    ("tank", "count_rack"): Doing([("C", "a1 Moss corner, shrimplets")], ends="counting"),
    ("room", "count_rack"): Doing([("C", "a1 Moss corner, shrimplets")], ends="counting"),
    ("counting", "next_count"): Doing(
        [("enter", "a1 Moss corner, adults"), ("3 5 enter", "35 adults counted in a1")], [Sighting]
    ),
    ("counting", "rub_out"): Doing([("5 5", "shrimplets: 55"), ("backspace", "shrimplets: 5")], lasting=True),
    ("counting", "uncount"): Doing(
        [("5 5 enter", "55 shrimplets counted in a1"), ("u", "taken back: 55 shrimplets")], [Sighting, Undone]
    ),
    ("round", "read_rack"): READ,
    ("tank", "read_rack"): READ,
    ("room", "read_rack"): READ,
    ("water", "read_rack"): Doing([("", "never read"), ("R", "a1 Moss corner, temperature")], ends="reading"),
    ("tank_water", "read_rack"): READ,
    ("round", "tank_water"): WATER,
    ("tank", "tank_water"): WATER,
    ("room", "tank_water"): WATER,
    ("flags", "tank_water"): Doing([("T", "Nothing was read here yet")], ends="tank_water"),
    ("water", "tank_water"): Doing([("", "never read"), ("T", "Nothing was read here yet")], ends="tank_water"),
    ("water", "changed"): Doing([("", "never read"), ("W", "and its rack, the last 14 days")], ends="changes"),
    ("water", "open_water"): Doing([("", "never read"), ("enter", "Nothing was read here yet")], ends="tank_water"),
    ("water", "tank_of"): Doing([("", "never read"), ("t", "The last 28 days")], ends="tank"),
    ("tank_water", "tank_of"): Doing([("t", "The last 28 days")], ends="tank"),
    ("water", "go_there"): Doing([("", "never read"), ("space", "a1 Moss corner")], ends="round"),
    ("tank_water", "go_there"): Doing([("space", "a1 Moss corner")], ends="round"),
    ("tank_water", "topped_off"): Doing(
        [("a", "how many litres were poured in?"), ("2 , 5 enter", "2.5 L of pure water added to a1")], [WaterAdded]
    ),
    ("tank_water", "water_changed"): Doing(
        [("c", "how many litres were changed?"), ("4 enter", "4 L of a1 changed for pure water")], [WaterChanged]
    ),
    ("tank_water", "salted"): Doing([("s", "the room file names no salts")]),
    ("tank_water", "as_plot"): Doing([("g", "nothing was read here yet")]),
    ("tank_water", "other_quantity"): Doing([("o", "nothing was read here yet")]),
    ("tank_water", "sources"): Doing([("i", "Where the numbers come from"), ("escape", "a1 Moss corner")]),
    ("tank_water", "undo"): UNDO,
    ("reading", "next_count"): Doing(
        [("enter", "a1 Moss corner, TDS"), ("1 8 0 enter", "a1: TDS 180 mg/L")], [Reading]
    ),
    ("reading", "rub_out"): Doing([("2 3", "temperature: 23"), ("backspace", "temperature: 2")], lasting=True),
    ("reading", "uncount"): Doing(
        [("2 3 comma 5 enter", "a1: temperature 23.5"), ("u", "taken back: temperature 23.5")], [Reading, Undone]
    ),
    ("reading", "quantities"): Doing(
        [("o", "What is read?"), ("4", "● pH"), ("enter", "a1    pH"), ("enter", "a1 Moss corner, TDS")],
        lasting=True,
    ),
    ("round", "changed"): Doing([("W", "a1 Moss corner and its rack, the last 14 days")], ends="changes"),
    ("tank", "changed"): Doing([("W", "a1 Moss corner and its rack, the last 14 days")], ends="changes"),
    ("room", "changed"): Doing([("W", "a1 Moss corner and its rack, the last 14 days")], ends="changes"),
    ("flags", "changed"): Doing([("W", "and its rack, the last 14 days")], ends="changes"),
    ("expected", "changed"): Doing([("W", "b2 Pale ones and its rack, the last 14 days")], ends="changes"),
    ("expected", "open_tank"): TANK,
    ("expected", "go_there"): Doing([("space", "b2 Pale ones")], ends="round"),
    ("away", "tick"): Doing([("space", "nothing was due here")]),
    ("away", "all_planned"): Doing([("a", "No leave plan has begun")]),
    ("away", "write_ticks"): Doing([("enter", "nothing is ticked yet")]),
    ("away", "untick"): Doing([("u", "nothing was written here yet")]),
    ("stock", "delivered"): Doing(
        [("d", "how many grams came?"), ("5 0 enter", "50 g of Nettle dust delivered")], [Delivered]
    ),
    ("stock", "opened"): Doing([("o", "which lot was opened?"), ("K enter", "a pack of Nettle dust opened")], [Opened]),
    ("stock", "weighed"): Doing(
        [("g", "how many grams are there"), ("4 0 enter", "40 g of Nettle dust on the shelf")], [Weighed]
    ),
    ("stock", "undo"): UNDO,
    ("survival", "by"): Doing([("o", "Side by side: lines"), ("o", "Side by side: months")], lasting=True),
    ("survival", "as_plot"): Doing([("g", "hatches behind it"), ("g", "Each hatch")]),
    ("lines", "other_year"): Doing([("o", "the year before")], lasting=True),
    ("flags", "tank_of"): Doing([("t", "The last 28 days")], ends="tank"),
    ("missed", "tank_of"): Doing([("down t", "The last 28 days")], ends="tank"),
    ("flags", "go_there"): Doing([("space", "a2 Long slate")], ends="round"),
    ("lookback", "go_there"): Doing([("space", "q1 Newcomers")], ends="round"),
    ("missed", "go_there"): Doing([("down space", "a2 Long slate")], ends="round"),
    ("plan", "go_there"): Doing([("down down space", "a3 Fern and root")], ends="round"),
    ("room", "go_there"): Doing([("right space", "a2 Long slate")], ends="round"),
    ("tank", "go_there"): Doing([("space", "a1 Moss corner")], ends="round"),
    ("round", "other_round"): Doing([("o", "the evening round"), ("", "Walnut leaf")], lasting=True),
}
"""By screen and act. Acts that can be done on every screen are in `SHOWING` and `STAYING`."""

SHOWING: Final[dict[str, str]] = {
    "show_round": "r",
    "show_prepare": "b",
    "show_lookback": "k",
    "show_missed": "m",
    "show_flags": "f",
    "show_plan": "p",
    "show_room": "v",
    "show_water": "H",
    "show_expected": "E",
    "show_survival": "S",
    "show_away": "A",
    "show_lines": "L",
    "show_stock": "F",
    "show_help": "h",
}
"""Acts of every screen that lead to another one, and their keys."""
STAYING: Final[dict[str, Doing]] = {
    "reread": Doing([("w", "says the same as before")]),
    "colours": Doing([("f2", "colours: ")]),
    "message": Doing([("e", "The line at the bottom"), ("escape", "F1 keys")]),
    "keeper": Doing([("y", "Who is here?"), ("escape", "F1 keys")]),
    "keys": Doing([("f1", "ctrl+p finds an act"), ("escape", "F1 keys")]),
}
"""Acts of every screen that stay there."""
BY_THEMSELVES: Final = frozenset(("back", "quit", "more", "less"))
"""Acts that leave the screen or scroll it, with tests of their own."""
