"""Chores as values: what is done beside feeding, where, how often, and in which place of the walk."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Literal

Each = Literal["tank", "rack", "room"]
"""What a chore is done once for."""
Order = Literal["before", "stop", "after"]
"""Before the tanks of its rack (or of the room), at the tank's own stop, or after them."""
Condition = Literal["leftovers_twice", "tds_drift", "after_move_in"]
"""What makes a chore due that has no calendar: leftovers reported twice running, dissolved solids (or conductivity)
that stepped or drifted away from what they were, or animals that came in."""
DoneBy = Literal["reading", "water_added"]
"""Kinds of entry that do a chore by being written: the water read, or water poured in."""


@dataclass(frozen=True, slots=True)
class ChorePlace:
    """Where a chore is done: at a tank, at a rack, or (both None) in the room."""

    tank: str | None = None
    rack: str | None = None


@dataclass(frozen=True, slots=True)
class Chore:
    """One chore with the rule by which it is due, one of three kinds.

    - `rule`, read from `begins`: an RFC 5545 recurrence rule of whole days. It keeps its calendar.
    - `every`: so many days after it was last done; first from `begins` on.
    - `condition`, for `after_move_in` with `days`: so many days after animals came in.

    `within` is for how many days a turn may be done, the first included: the days over which places are spread.
    `places` are in walking order. `by` are the keepers who do it, none for any. `quarantine`: it belongs to the
    quarantine tanks alone, with their own tools, and so comes last. `best_before` is the date on the bottle of a
    meter's standard. `note` says how it is done, in a few words. An entry of the kind `done_by` about its tank does it.
    """

    id: str
    name: str
    places: tuple[ChorePlace, ...]
    round: str
    order: Order
    minutes: float
    within: int = 1
    rule: str | None = None
    every: int | None = None
    condition: Condition | None = None
    days: int = 0
    begins: date | None = None
    by: tuple[str, ...] = ()
    quarantine: bool = False
    best_before: date | None = None
    note: str = ""
    done_by: DoneBy | None = None

    def subject(self, place: ChorePlace) -> str:
        """How its marks at a place are found in the ledger, beside the tank."""
        return self.id if place.rack is None else f"{self.id} {place.rack}"
