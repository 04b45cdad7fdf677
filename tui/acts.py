"""What the keeper can do, declared once: from here come the keys, the footer, the key list and the command palette."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final, Literal, get_args

from textual.binding import Binding

Place = Literal[
    "round",
    "prepare",
    "lookback",
    "missed",
    "flags",
    "plan",
    "tank",
    "room",
    "expected",
    "changes",
    "survival",
    "lines",
    "help",
    "counting",
    "away",
    "stock",
    "reading",
    "water",
    "tank_water",
]
EVERYWHERE: Final[frozenset[Place]] = frozenset(get_args(Place))


@dataclass(frozen=True, slots=True)
class Act:
    """One act: its name (also the binding's id and the action's), its key, what the footer and the key list say.

    `footer` names the screens whose footer shows it: six acts at most on each.
    """

    id: str
    key: str
    label: str
    help: str
    places: frozenset[Place]
    footer: frozenset[Place] = frozenset()


def _at(*places: Place) -> frozenset[Place]:
    return frozenset(places)


ROUND: Final = _at("round")
AT_TANK: Final = _at("round", "tank")
BESIDE: Final = EVERYWHERE - ROUND
SHELF: Final = _at("stock")
AWAY: Final = _at("away")
READ: Final = _at("round", "prepare", "tank", "changes", "survival", "lines", "help", "tank_water")
POURED: Final = _at("tank_water")
WALKS: Final = _at("counting", "reading")
LISTS: Final = _at("flags", "lookback", "missed", "plan", "room", "expected", "water", "tank_water")

HERE: Final[tuple[Act, ...]] = (
    Act("finish", "space", "done", "Mark all that is due at this stop as given, and go on to the next", ROUND, ROUND),
    Act("one", "1", "one", "Mark one serving by its number, 1 to 9, or by a tap on it", AT_TANK),
    Act("skip", "s", "skip", "Leave out what is due here: first why, then what; the round goes on", AT_TANK, AT_TANK),
    Act("leftovers", "l", "leftovers", "Say how much of a feed is lying in the tank", AT_TANK, AT_TANK),
    Act("came", "d", "came", "Say how the animals came to a feed, some minutes after it went in", AT_TANK),
    Act("amount", "a", "amount", "Give a serving in another amount than due", AT_TANK),
    Act("extra", "g", "give", "Give a feed that is not due here today", AT_TANK),
    Act("reckon", "i", "how much", "How the amounts here come about, line by line", AT_TANK),
    Act("left_none", "1", "none", "Nothing of it is left lying", _at("lookback"), _at("lookback")),
    Act("left_some", "2", "some", "Some of it is left lying", _at("lookback"), _at("lookback")),
    Act("left_most", "3", "most", "Most of it is left lying", _at("lookback"), _at("lookback")),
    Act("came_fast", "4", "fast", "They came to it fast", _at("lookback")),
    Act("came_slowly", "5", "slowly", "They came to it slowly", _at("lookback")),
    Act("came_nobody", "6", "nobody", "Nobody came to it", _at("lookback")),
    Act(
        "give_now",
        "g",
        "give now",
        "Give what was missed now, if no rule forbids it",
        _at("missed"),
        _at("missed"),
    ),
    Act("let_go", "x", "let go", "Let what was missed go, with a reason", _at("missed"), _at("missed")),
    Act("aside", "x", "seen", "Set this flag aside as seen, or take that back", _at("flags"), _at("flags")),
    Act("topped_off", "a", "top off", "Write down water poured in: how many litres, which water", POURED, POURED),
    Act("water_changed", "c", "change", "Write down water changed: how many litres, for which water", POURED, POURED),
    Act("salted", "s", "salt", "Write down a salt put in: which, how many grams", POURED),
    Act(
        "next_count", "enter", "keeps, goes on", "Keep the number typed and go on; without one only go on", WALKS, WALKS
    ),
    Act("rub_out", "backspace", "rub out", "Take away the last sign typed", WALKS),
    Act("quantities", "o", "what", "Choose which quantities are read", _at("reading"), _at("reading")),
    Act("tick", "space", "tick", "Given as planned, left out, cloudy, or not said: one after the other", AWAY, AWAY),
    Act("all_planned", "a", "all", "Tick all of which nothing is said as given", AWAY, AWAY),
    Act("write_ticks", "enter", "write", "Write down all that is ticked, for the helper", AWAY, AWAY),
    Act("by", "o", "by another", "Put the hatches side by side by another", _at("survival"), _at("survival")),
    Act(
        "as_plot",
        "g",
        "plot",
        "Show it as a plot, or in words again",
        _at("survival") | POURED,
        _at("survival") | POURED,
    ),
    Act("other_year", "o", "other year", "The year before; after the oldest this one", _at("lines"), _at("lines")),
    Act("other_quantity", "o", "another", "The plot of the next quantity", POURED, POURED),
    Act("sources", "i", "sources", "Where the formulas come from", POURED),
    Act("delivered", "d", "delivered", "Write down a delivery: grams, and lot and use-by date if known", SHELF, SHELF),
    Act("opened", "o", "opened", "Write down that a pack was opened; its date counts from now on", SHELF, SHELF),
    Act("weighed", "g", "weighed", "Write down how much there is, all packs together", SHELF, SHELF),
    Act("why", "i", "why", "Why each feed is served on this day, or why not", _at("plan"), _at("plan")),
    Act("arithmetic", "enter", "how counted", "The arithmetic behind this flag", _at("flags"), _at("flags")),
    Act("unfold", "enter", "open", "Open or close a whole missed round; else the tank", _at("missed"), _at("missed")),
    Act(
        "open_water", "enter", "this tank", "This tank's water: what was read, how it moves", _at("water"), _at("water")
    ),
    Act("uncount", "u", "undo", "Take back the last number kept here and go back to it", WALKS, WALKS),
    Act("untick", "u", "undo", "Take back what was written here last", AWAY, AWAY),
    Act(
        "undo",
        "u",
        "undo",
        "Take back your last act of today: once more takes back the newest",
        AT_TANK | _at("lookback", "missed", "flags", "stock", "tank_water"),
        AT_TANK | _at("lookback", "missed", "flags", "stock"),
    ),
    Act("note", "n", "note", "Write a note about this tank", AT_TANK, _at("tank")),
    Act("later", "z", "later", "Leave this stop for later and go on to the next", ROUND),
)
ANIMALS_AND_WATER: Final[tuple[Act, ...]] = (
    Act("animals", "c", "animals", "What was seen of the animals: a hatch, deaths, a move", AT_TANK),
    Act("for_young", "G", "for young", "Give fine feed for a hatch that was seen today", AT_TANK),
    Act(
        "count_rack",
        "C",
        "count",
        "Count the animals of this rack, tank after tank",
        _at("round", "tank", "room"),
    ),
    Act(
        "changed",
        "W",
        "what changed",
        "What was different in this tank and its rack in the last two weeks",
        _at("round", "tank", "flags", "room", "expected", "water"),
    ),
    Act(
        "read_rack",
        "R",
        "read",
        "Read the water of this rack, tank after tank",
        _at("round", "tank", "room", "water", "tank_water"),
    ),
    Act(
        "tank_water",
        "T",
        "water",
        "This tank's water: what was read, how it moves, what to add",
        AT_TANK | _at("room", "flags", "water"),
    ),
)
WAYS: Final[tuple[Act, ...]] = (
    Act("jump", "t", "tank", "Go to a tank by a part of its name", ROUND, ROUND),
    Act(
        "open_tank",
        "enter",
        "the tank",
        "This tank's life at a glance",
        _at("round", "lookback", "plan", "room", "expected"),
        _at("plan", "room", "expected"),
    ),
    Act(
        "tank_of",
        "t",
        "tank",
        "This tank's life at a glance",
        _at("flags", "missed", "water", "tank_water"),
        _at("flags"),
    ),
    Act("go_there", "space", "its stop", "Go to this tank's stop in the round", LISTS | _at("tank"), _at("room")),
    Act("find_stop", "slash", "find", "List only the stops of a rack, a feed or a state, and walk among them", ROUND),
    Act("all_stops", "escape", "all stops", "List all stops of the round again", ROUND),
    Act("other_round", "o", "round", "Walk another round of the day", ROUND),
    Act("more", "right", "down", "Read on: scroll the text down", READ),
    Act("less", "left", "up", "Scroll the text up", READ),
)
SCREENS: Final[tuple[Act, ...]] = (
    Act("show_round", "r", "round", "Today's round, at its next open stop", EVERYWHERE),
    Act("show_prepare", "b", "before", "What to take, weigh and mix before the round", EVERYWHERE),
    Act("show_lookback", "k", "look back", "Tanks to check for leftovers, by time", EVERYWHERE),
    Act("show_missed", "m", "missed", "What was missed, and what becomes of it", EVERYWHERE),
    Act("show_flags", "f", "flags", "What was too much or too little", EVERYWHERE),
    Act("show_plan", "p", "plan", "The coming weeks, by tank and day", EVERYWHERE),
    Act("show_room", "v", "room", "The racks as they stand, each tank with its state", EVERYWHERE),
    Act("show_expected", "E", "expected", "Which hatches are expected when, and what to do before", EVERYWHERE),
    Act("show_survival", "S", "survival", "How many young of each hatch lived, side by side", EVERYWHERE),
    Act("show_lines", "L", "lines", "What each line did in a year: hatches, grades, sales, moves", EVERYWHERE),
    Act("show_water", "H", "water", "The water of every tank, worst first", EVERYWHERE),
    Act("show_stock", "F", "shelf", "What there is of each feed, when it runs out, what to order", EVERYWHERE),
    Act("show_away", "A", "sheet", "Enter the ticks of a helper's sheet", EVERYWHERE),
    Act("show_help", "h", "help", "What the words and flags mean, and where a number comes from", EVERYWHERE),
)
PROGRAM: Final[tuple[Act, ...]] = (
    Act("keeper", "y", "keeper", "Say who is here: another keeper", EVERYWHERE),
    Act("message", "e", "message", "The whole of the line at the bottom", EVERYWHERE),
    Act("reread", "w", "room file", "Take in the room file as it was changed", EVERYWHERE),
    Act("colours", "f2", "colours", "Other colours: dusk, day, or the terminal's own", EVERYWHERE),
    Act("back", "escape", "back", "Back to where you came from", BESIDE, BESIDE),
    Act("keys", "f1", "keys", "All keys of this screen; each can be picked here", EVERYWHERE, EVERYWHERE),
    Act("quit", "q", "quit", "Close; the round goes on where you left it", EVERYWHERE),
)
SUBJECTS: Final = (
    ("Here", HERE),
    ("Animals and water", ANIMALS_AND_WATER),
    ("Where to", WAYS),
    ("Other screens", SCREENS),
    ("The program", PROGRAM),
)
"""Subjects and their acts, in the order in which the key list shows them."""
ACTS: Final[tuple[Act, ...]] = tuple(act for _, acts in SUBJECTS for act in acts)
BY_ID: Final[Mapping[str, Act]] = {act.id: act for act in ACTS}


def acts_of(place: Place) -> tuple[Act, ...]:
    """The acts of one screen."""
    return tuple(act for act in ACTS if place in act.places)


def bindings_of(place: Place) -> list[Binding]:
    """The key bindings of one screen; each can be remapped by the act's name."""
    return [
        Binding(act.key, act.id, act.label, show=place in act.footer, tooltip=act.help, id=act.id)
        for act in acts_of(place)
    ]


def key_text(key: str) -> str:
    """Keys as they are printed on the keyboard; of several, the first."""
    first = key.split(",")[0].strip()
    named = {"escape": "esc", "question_mark": "?", "slash": "/"}
    return named.get(first, first.upper() if first[0] == "f" and first[1:].isdigit() else first)
