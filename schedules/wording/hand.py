"""An amount as a hand takes it, in words: pieces and their parts, crumbs, spoons and their tips, grams."""

from __future__ import annotations

from schedules.amounts import goes_into_mix
from schedules.amounts.ration import Hand, in_hand
from schedules.formatting import amount_text, measurable, mg_text, number_text
from schedules.ledger import PostedServing, Served
from schedules.room import Feed, Room, Tools

SAME: float = 0.01
"""A measure counts as the one that an amount was taken in where its mass is within this part of it."""


def hand_text(hand: Hand) -> str:
    """An amount as it is taken: `½ pellet`, `2 crumbs of wafer`, `1 spoon tip`, `1.25 g`."""
    count = number_text(hand.count)
    if hand.unit == "gram":
        return f"{hand.count:.2f} g"
    if hand.unit == "crumb":
        return f"{count} crumb{'' if hand.count == 1 else 's'} of {hand.name}"
    if hand.unit == "spoon_tip":
        return f"{count} {hand.name} tip{'' if hand.count == 1 else 's'}"
    return amount_text(hand.count, hand.name)


def dry_text(feed: Feed, mg: float, tools: Tools) -> str:
    """A dry amount as it is taken, with its mass where the keeper has scales."""
    taken = hand_text(in_hand(feed, mg, tools))
    return taken if tools.plain or taken.endswith(" g") else f"{taken} ({mg_text(mg)})"


def serving_text(room: Room, what: Served | PostedServing) -> str:
    """An amount without its bottle: by hand as it is taken, out of a mix by its mass, or by measures in plain mode."""
    feed = room.feeds.get(what.feed)
    if mixed(room, what) and not measurable(what.amount):
        mass = amount_text(what.amount, what.unit) if room.tools.plain else mg_text(what.amount_mg)
        return f"{mass} in the mix"
    if feed is not None and feed.measure.name == what.unit and _same_measure(feed, what):
        return dry_text(feed, what.amount_mg, room.tools)
    taken = amount_text(what.amount, what.unit)
    return taken if room.tools.plain else f"{taken} ({mg_text(what.amount_mg)})"


def mixed(room: Room, what: Served | PostedServing) -> bool:
    """Whether an amount comes out of a mix: what the keeper gave by the spoon did not."""
    method = what.method if isinstance(what, PostedServing) else "premixed"
    due = PostedServing(what.tank, what.feed, what.round, what.part, what.amount, what.unit, what.amount_mg, method)
    return goes_into_mix(room, due)


def _same_measure(feed: Feed, what: Served | PostedServing) -> bool:
    """Whether a measure still weighs what it did when the amount was written down."""
    return abs(what.amount * feed.measure.mg - what.amount_mg) <= SAME * what.amount_mg
