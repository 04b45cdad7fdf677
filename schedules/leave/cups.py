"""What lies ready for each visit and rack: cups with dry feed and the water to add, pieces, and who gets what.

The cups of a feed and a rack are weighed at one strength for all days away, so that its doses stay the same.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from schedules.amounts.mixing.bottle import asked_of, bottle, weigh_ahead
from schedules.amounts.mixing.types import Bottle
from schedules.leave.plan import LeavePlan
from schedules.ledger import PostedServing
from schedules.room import Rack, Room
from schedules.round.doses import Doses


@dataclass(frozen=True, slots=True)
class RackDay:
    """One rack on one visit: its cups, what is due there in walking order, and the doses it is given in.

    `several` says whether the helper has something to do in more than one round of that day, at any rack.
    """

    day: date
    rack: Rack
    due: tuple[PostedServing, ...]
    cups: tuple[Bottle, ...]
    doses: Doses
    several: bool = False

    def pieces(self) -> dict[str, float]:
        """What is given by the piece on this visit, mg of dry feed by feed."""
        found: dict[str, float] = {}
        for each in self.due:
            if self.doses.of(each) is None:
                found[each.feed] = found.get(each.feed, 0.0) + each.amount_mg
        return found


def rack_days(room: Room, plan: LeavePlan) -> tuple[RackDay, ...]:
    """Every rack on every visit on which something is due there, rack by rack."""
    return tuple(found for rack in room.racks for found in _of_rack(room, plan, rack))


def _of_rack(room: Room, plan: LeavePlan, rack: Rack) -> Iterator[RackDay]:
    by_day = {day: tuple(each for each in plan.due(day) if each.tank in rack.tanks) for day in plan.visits}
    asked = {day: asked_of(room, due) for day, due in by_day.items()}
    weighed = {}
    for feed in room.feeds.values():
        mornings = [(day, found[feed.id]) for day, found in asked.items() if feed.id in found]
        if mornings:
            weighed[feed.id] = weigh_ahead(feed, mornings, room.tools)
    for day, due in by_day.items():
        cups = tuple(
            bottle(room.feeds[feed], doses, room.tools, weighed[feed], day) for feed, doses in asked[day].items()
        )
        if due:
            several = len({each.round for each in plan.due(day)}) > 1
            yield RackDay(day, rack, due, cups, Doses(room, cups, due), several)
