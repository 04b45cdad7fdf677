"""What the keeper can do, declared once: from here come the keys, the footer, the key list and the command palette."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final, Literal

from textual.binding import Binding

Place = Literal["round", "missed", "flags", "plan", "tank"]
EVERYWHERE: Final[frozenset[Place]] = frozenset(("round", "missed", "flags", "plan", "tank"))
ROUND: Final[frozenset[Place]] = frozenset(("round",))
AT_TANK: Final[frozenset[Place]] = frozenset(("round", "tank"))


@dataclass(frozen=True, slots=True)
class Act:
    """One act: its name (also the binding's id and the action's), its key, what the footer and the key list say."""

    id: str
    key: str
    label: str
    help: str
    places: frozenset[Place]
    footer: bool = False


ACTS: Final[tuple[Act, ...]] = (
    Act("finish", "space", "done", "Mark all that is due at this stop as given, and go on to the next", ROUND, True),
    Act("skip", "s", "skip", "Leave out what is due here, with a reason", ROUND, True),
    Act("leftovers", "l", "leftovers", "Say how much of a feed is lying in the tank", AT_TANK, True),
    Act("undo", "u", "undo", "Take back your last act of today", AT_TANK, True),
    Act("amount", "a", "amount", "Give a serving in another amount than due", ROUND),
    Act("extra", "g", "give", "Give a feed that is not due here today", AT_TANK),
    Act("note", "n", "note", "Write a note about this tank", AT_TANK),
    Act("later", "z", "later", "Leave this stop for later and go on to the next", ROUND),
    Act("jump", "t", "tank", "Go to a tank by a part of its name", ROUND, True),
    Act("other_round", "o", "round", "Walk another round of the day", ROUND),
    Act("show_round", "r", "round", "Today's round", EVERYWHERE),
    Act("show_missed", "m", "missed", "What was missed, and what becomes of it", EVERYWHERE),
    Act("show_flags", "f", "flags", "What was too much or too little", EVERYWHERE),
    Act("show_plan", "p", "plan", "The coming weeks, by tank and day", EVERYWHERE),
    Act("keys", "f1", "keys", "All keys of this screen, and the cautions", EVERYWHERE, True),
    Act("quit", "q", "quit", "Close; the round goes on where you left it", EVERYWHERE),
)
"""In the order in which the key list shows them."""


def acts_of(place: Place) -> tuple[Act, ...]:
    """The acts of one screen."""
    return tuple(act for act in ACTS if place in act.places)


def bindings_of(place: Place) -> list[Binding]:
    """The key bindings of one screen; each can be remapped by the act's name."""
    return [Binding(act.key, act.id, act.label, show=act.footer, tooltip=act.help, id=act.id) for act in acts_of(place)]


def key_text(key: str) -> str:
    """A key as it is printed on the keyboard."""
    return key.upper() if key[0] == "f" and key[1:].isdigit() else key
