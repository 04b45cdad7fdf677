"""A round as it is walked: stops in order, and what is due, given, skipped or held back at each."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Literal

from schedules.amounts.ration import DrawOff, Remaining
from schedules.chores import ChoreDue, ChoreState
from schedules.ledger.entries import Entry, PostedServing, Served
from schedules.room.chores import Order

State = Literal["due", "given", "skipped", "missed"]
Rule = Literal["again", "min_gap", "clock_gap", "leftovers", "ration"]


@dataclass(frozen=True, slots=True)
class Refusal:
    """Why `feed` should not be given on `day`: the rule it breaks, with what tells who gave what when.

    - `again`: `entry` is the serving of the same feed that day.
    - `min_gap`, `clock_gap`: `near` was given on the day `on` (`entry`, None where that lies too far back), and `gap`
      is how many days apart they must be.
    - `leftovers`: most of `near` was left on the day `on`; solid feed waits until the day `until`.
    - `ration`: `taken` is the part of the table's ration that is given already or about to be (`entry` is the newest
      of it), `part` what this serving would take besides: `serving` in full, None where nothing of it is left.
    """

    rule: Rule
    feed: str
    day: date
    near: str = ""
    on: date | None = None
    entry: Entry | None = None
    gap: int = 0
    until: date | None = None
    taken: float = 0.0
    part: float = 0.0
    serving: PostedServing | Served | None = None


@dataclass(frozen=True, slots=True)
class Why:
    """Why a feed is due: how long ago its need was answered, how often it was this week, whom it draws away.

    `code` is "due", or why there is nothing to say: "not_due" (given all the same), "no_feed" (no longer in the room
    file), "no_need" (nothing in the tank needs it any more). `need` is the id of the clock that presses most.
    `days_ago` is None where it was never answered, `max_gap` and `per_week` where there is no such rule.
    """

    code: Literal["due", "not_due", "no_feed", "no_need"]
    need: str = ""
    days_ago: int | None = None
    max_gap: int | None = None
    this_week: int = 0
    per_week: float | None = None
    draws: bool = False


@dataclass(frozen=True, slots=True)
class RoundServing:
    """One serving of a round.

    `due` is what to give now: as posted, or less where more was given meanwhile, and `shrunk` then says why, else
    None. `planned` is false for what was given without being due. `marked` is the entry that settled it, `held` the
    rule that giving it now would break (None where nothing forbids it, and once it is settled).
    """

    due: PostedServing
    shrunk: Remaining | None
    feed_name: str
    minutes: float
    state: State
    planned: bool
    why: Why
    marked: Entry | None
    held: Refusal | None


@dataclass(frozen=True, slots=True)
class Stop:
    """One tank of the round with its servings in the order in which they are given, and its chores after them.

    A stop without a tank is one of chores alone: before or after the tanks of a rack, or of the room (`rack` None);
    `quarantine` says that it is that of the quarantine tanks.

    Servings stand in the order of the stock, but for what draws the adults, which goes in before a powder. `draw_off`
    says how they are drawn off, None where no powder is still to be given or where shrimplets and adults do not share
    the tank.
    """

    tank: str | None
    servings: tuple[RoundServing, ...]
    draw_off: DrawOff | None = None
    chores: tuple[ChoreDue, ...] = ()
    rack: str | None = None
    order: Order = "stop"
    quarantine: bool = False

    @property
    def key(self) -> str:
        """The tank's id, or words that no other stop of a round has; ids hold no blanks."""
        if self.tank is not None:
            return self.tank
        return " ".join((self.order, self.rack or "", "quarantine" if self.quarantine else ""))

    @property
    def open(self) -> bool:
        """Whether something is still due here."""
        return "due" in self.states

    @property
    def states(self) -> tuple[State | ChoreState, ...]:
        """How everything stands, servings first."""
        return (*(serving.state for serving in self.servings), *(each.state for each in self.chores))

    @property
    def minutes_left(self) -> float:
        """Minutes of what is still due and not held back, chores among them."""
        feeding = sum(serving.minutes for serving in self.servings if serving.state == "due" and serving.held is None)
        return feeding + sum(each.chore.minutes for each in self.chores if each.state == "due")


@dataclass(frozen=True, slots=True)
class RoundSheet:
    """The stops of one round in walking order. `posted` is false where no posting says anything of the day."""

    day: date
    round: str
    stops: tuple[Stop, ...]
    posted: bool

    @property
    def done(self) -> int:
        """How many stops have nothing due any more."""
        return sum(not stop.open for stop in self.stops)

    @property
    def minutes_left(self) -> float:
        """Minutes of everything that is still due."""
        return sum(stop.minutes_left for stop in self.stops)

    def next_open(self, after: int = -1) -> int | None:
        """The number of the next open stop after stop `after`, going on from the first; None when all are done."""
        order = [*range(after + 1, len(self.stops)), *range(min(after + 1, len(self.stops)))]
        return next((number for number in order if self.stops[number].open), None)

    def next_tank(self) -> str | None:
        """The tank of the first open stop at a tank; None when all of those are done."""
        return next((stop.tank for stop in self.stops if stop.open and stop.tank is not None), None)
