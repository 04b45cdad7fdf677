"""What the keeper takes for a serving: measures by hand, or millilitres of a feed's mix."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from datetime import date
from typing import Final

from schedules.amounts.mixing import Bottle, Dose, bottles, dose, goes_into_mix
from schedules.history import History
from schedules.ledger import PostedServing
from schedules.room import Room
from schedules.round import round_sheet


def servings_to_mix(room: Room, history: History, day: date, round_id: str) -> tuple[PostedServing, ...]:
    """What a round's mixes are made for: everything due in it that nothing stood against when the day began.

    Today's own marks are left out, so that a mix stays the same mix while the round is walked.
    """
    earlier = tuple(entry for entry in history.entries if entry.day < day)
    # Before the first mark the history itself serves: what it has looked up already need not be looked up again.
    before = history if len(earlier) == len(history.entries) else replace(history, entries=earlier)
    sheet = round_sheet(room, before, day, day, round_id)
    return tuple(
        serving.due
        for stop in sheet.stops
        for serving in stop.servings
        if serving.state == "due" and serving.held is None
    )


class Doses:
    """The mixes of one round. `servings` are those that the mixes were made for."""

    def __init__(self, room: Room, mixes: Iterable[Bottle], servings: tuple[PostedServing, ...]) -> None:
        self.servings: Final = servings
        self.bottles: Final = tuple(mixes)
        self.room: Final = room
        self._by_feed = {bottle.feed: bottle for bottle in self.bottles}

    def of(self, due: PostedServing) -> Dose | None:
        """The dose of a mix for a serving, None where it is given by the measure."""
        bottle = self._by_feed.get(due.feed)
        if bottle is None or not goes_into_mix(self.room, due):
            return None
        made = self.dose_for(due.tank, due.feed, due.amount_mg)
        taken = made or dose(due.tank, due.amount_mg, bottle.mg_per_ml, self.room.tools, None)
        return taken if taken.ml > 0 else None

    def dose_for(self, tank: str, feed: str, mg: float) -> Dose | None:
        """The dose of that mass that a feed's bottle was made with for a tank."""
        bottle = self._by_feed.get(feed)
        doses = () if bottle is None else bottle.doses
        return next((each for each in doses if each.tank == tank and each.mg == mg), None)

    def mg_per_ml(self, feed: str) -> float | None:
        """How strong a feed's mix is, None where it is not mixed today."""
        bottle = self._by_feed.get(feed)
        return None if bottle is None else bottle.mg_per_ml


def mix_round(room: Room, history: History, day: date, round_id: str) -> Doses:
    """The mixes of a round, worked out."""
    servings = servings_to_mix(room, history, day, round_id)
    return Doses(room, bottles(room, history, servings, day), servings)
