"""How long a morning's preparation takes, in minutes. All figures here are common practice, no source."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Final

from schedules.amounts.mixing.bottle import asked_of, goes_into_mix
from schedules.amounts.mixing.types import Weighing
from schedules.ledger.entries import PostedServing
from schedules.room import Room

OPEN: Final = 0.2
"""Taking a feed from the shelf, opening and closing it."""
WEIGH: Final = 0.3
"""One cup on the scale, with its label."""
MIX: Final = 0.4
"""Water into a cup or bottle, shaking it."""
DRAW: Final = 0.03
"""One syringe drawn up out of a bottle that stands open."""


def preparation_minutes(room: Room, servings: Iterable[PostedServing], weighed: Sequence[Weighing] = ()) -> float:
    """Minutes before the first tank: each feed opened once, cups weighed today, bottles mixed, doses drawn up.

    Whether a dose is a syringe or a cup is not known before the bottle is; every dose counts as a syringe here.
    """
    due = [each for each in servings if each.feed in room.feeds and each.amount_mg > 0]
    mixed = asked_of(room, due)
    dry = {each.feed for each in due if not goes_into_mix(room, each)}
    opened = dry | {each.feed for each in weighed}
    doses = sum(len(asked) for asked in mixed.values())
    cups = sum(len(each.cups) for each in weighed)
    return OPEN * len(opened) + WEIGH * cups + MIX * len(mixed) + DRAW * doses


def feed_minutes(fine: bool) -> float:
    """What one feed more on a morning costs beyond its servings, for the planner: weighing spread over its mornings."""
    return MIX + WEIGH if fine else OPEN
