"""Entries of the ledger in a few words, for screens and commands alike. Plain text: it may hold the keeper's words."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Final

from schedules.formatting import clock_text, date_text, day_text, grams_text, method_text
from schedules.ledger import Acknowledged, Entry, PostedServing, Reason, Served
from schedules.ledger.declaration import kind_of
from schedules.review.missed import Missed
from schedules.room import Room
from schedules.room.kinds import Stage
from schedules.room.units import volume_text
from schedules.room.water.quantities import Quantity, reading_text
from schedules.wording.glossary import FLAG_NAMES
from schedules.wording.hand import mixed, serving_text

STAGE_TEXT: Final[dict[Stage, str]] = {
    "shrimplet": "shrimplets",
    "juvenile": "juveniles",
    "adult": "adults",
    "filter_feeder": "filter feeders",
}

_KEPT: Final = {
    "again": "already given",
    "min_gap": "its gap is not over",
    "clock_gap": "the gap of the feeds that take turns with it is not over",
    "group_gap": "the gap of the feeds that take turns with it is not over",
    "leftovers": "most of a solid feed was left",
    "ration": "the day's ration is taken",
}
"""The rules for which a serving is held back, in words. A code of a newer program is shown as it is."""
_AWAY: Final = {"left_out": "left out by the helper", "cloudy": "left out by the helper: cloudy, or food lying there"}
"""What a helper ticked on a sheet instead of giving."""


@dataclass(frozen=True, slots=True)
class RoomNames:
    """How the keepers of a room call things: see `schedules.ledger.declaration.Names`."""

    room: Room

    def tank(self, tank: str) -> str:
        """A tank's name."""
        return tank

    def feed(self, feed: str) -> str:
        """A feed's name."""
        return feed_name(self.room, feed)

    def day(self, day: date) -> str:
        """A day."""
        return date_text(day)

    def amount(self, tank: str, feed: str, amount: float, unit: str, milligrams: float) -> str:
        """An amount of a feed as the keeper takes it."""
        return serving_text(self.room, Served(tank, feed, "", amount, unit, milligrams, 0.0, True))

    def reason(self, reason: Reason) -> str:
        """A reason in words."""
        return reason_text(reason)

    def flag(self, flag: str, feed: str | None) -> str:
        """A flag's kind in words, with the feed it is about."""
        return flag_name(self.room, flag, feed)

    def reading(self, quantity: Quantity, value: float) -> str:
        """A quantity of the water with its value in the keeper's units."""
        return reading_text(quantity, value, self.room.units)

    def grams(self, grams: float) -> str:
        """A mass on the shelf."""
        return grams_text(grams)

    def volume(self, litres: float) -> str:
        """A volume of water in the keeper's units."""
        return volume_text(litres, self.room.units)

    def water(self, source: str | None) -> str:
        """A make-up water, None for pure water."""
        named = self.room.waters.get(source or "pure")
        return named.name if named is not None else source or "pure water"

    def salt(self, salt: str) -> str:
        """A salt's name."""
        return self.room.salts[salt].name if salt in self.room.salts else salt

    def chore(self, chore: str) -> str:
        """A chore's name."""
        return chore_name(self.room, chore)

    def place(self, tank: str | None, rack: str | None) -> str:
        """Where a chore is done."""
        return place_text(self.room, tank, rack)


def marked_text(room: Room, entry: Entry) -> str:
    """What an entry says, without who and when."""
    return kind_of(entry.what).words(entry.what, entry.day, RoomNames(room))


def reason_text(reason: Reason) -> str:
    """Why something was not done: the keeper's own words, or the rule that was kept."""
    text = reason.get("text")
    if reason.code in _AWAY:
        return _AWAY[reason.code]
    return str(text) if reason.code == "other" else f"held back by a rule: {_KEPT.get(reason.code, reason.code)}"


def entry_text(room: Room, entry: Entry) -> str:
    """What an entry says, who made it and when."""
    # A flag is about the past as a rule; whoever has seen it did so on another day.
    day = room.day(entry.at) if isinstance(entry.what, Acknowledged) else entry.day
    when = f"{date_text(day)} {clock_text(entry.at, room.zone)}"
    return f"{marked_text(room, entry)} ({entry.by or 'the program'}, {when})"


def due_text(room: Room, due: PostedServing) -> str:
    """How much of a due serving is given."""
    return serving_text(room, due)


def how_text(room: Room, due: PostedServing) -> str:
    """How a due serving is given."""
    return method_text(due.method, mixed=mixed(room, due))


def feed_name(room: Room, feed: str) -> str:
    """A feed's name; its id where it left the stock."""
    return room.feeds[feed].name if feed in room.feeds else feed


def chore_name(room: Room, chore: str) -> str:
    """A chore's name; its id where it left the room file."""
    return next((each.name for each in room.chores if each.id == chore), chore)


def place_text(room: Room, tank: str | None, rack: str | None) -> str:
    """Where a chore is done: a tank, a rack by its name, or the room."""
    if tank is not None:
        return tank
    return "the room" if rack is None else f"rack {next((each.name for each in room.racks if each.id == rack), rack)}"


def flag_name(room: Room, kind: str, feed: str | None) -> str:
    """A flag's kind in words, the same on every screen, with the feed it is about."""
    return FLAG_NAMES.get(kind, kind.replace("_", " ")) + (f", {feed_name(room, feed)}" if feed is not None else "")


def missed_outcome_text(each: Missed, today: date) -> str:
    """What becomes of a missed serving, in words."""
    if each.outcome == "let go":
        return "let go, none planned" if each.on is None else f"let go, next {day_text(each.on, today)}"
    if each.on is None:
        return each.outcome
    return f"{each.outcome}: {day_text(each.on, today)}"
