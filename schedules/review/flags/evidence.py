"""What a flag is read off: entries of the ledger and numbers, by sort of finding. Words: `schedules.wording.flags`."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Literal

from schedules.amounts.load import Load
from schedules.ledger.entries import Entry, Leftovers, PostedServing
from schedules.room.kinds import Stage
from schedules.water.watch import Finding


@dataclass(frozen=True, slots=True)
class Given:
    """Servings of one day: all of a table with the part of the ration they took, or all of a feed in one round."""

    entries: tuple[Entry, ...]
    total: float = 0.0
    round: str = ""


@dataclass(frozen=True, slots=True)
class TooSoon:
    """A serving `apart` days after the one `before` (`earlier`, None where it lies too far back), `gap` at least."""

    later: Entry
    earlier: Entry | None
    before: date
    apart: int
    gap: int


@dataclass(frozen=True, slots=True)
class WeekOver:
    """The days of the week from `monday` on which a need was answered, the feeds that answer it, and its target."""

    monday: date
    days: tuple[date, ...]
    feeds: tuple[str, ...]
    target: float


@dataclass(frozen=True, slots=True)
class Left:
    """The worst report of leftovers of a feed on a day."""

    report: Entry


@dataclass(frozen=True, slots=True)
class LeftTwice:
    """Two servings of a feed, one after the other, and what was left of each (None: not said).

    The later one took `times` as much of the ration.
    """

    earlier: Entry
    later: Entry
    first: Leftovers | None
    second: Leftovers | None
    times: float


@dataclass(frozen=True, slots=True)
class Absent:
    """The reports that nobody came to a feed, all of one rack and round."""

    entries: tuple[Entry, ...]
    rack: str
    round: str


@dataclass(frozen=True, slots=True)
class Handled:
    """A serving and what was odd about how it was given.

    `adults` are those present, and `days` on how many days since `since` it was so; `best_before` is the feed's;
    `planned` was due, and `times` as much was given.
    """

    entry: Entry
    adults: int = 0
    days: int = 1
    since: date | None = None
    best_before: date | None = None
    planned: PostedServing | None = None
    times: float = 1.0


@dataclass(frozen=True, slots=True)
class Waiting:
    """How long a tank has been without a need (or without anything), for how long it may, and the last day it got it.

    `animals` of a `stage` wait for one of `feeds`. `last` is None where it never got any since it was entered.
    """

    days: int
    last: date | None
    max_gap: int = 0
    stage: Stage | None = None
    animals: int = 0
    feeds: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Deaths:
    """The entries of deaths that lie close together, by day, and how many `heads` died in them."""

    entries: tuple[Entry, ...]
    heads: int


@dataclass(frozen=True, slots=True)
class WaterFound:
    """What the watch over the water found, all of one sort, in one tank on one day."""

    findings: tuple[Finding, ...]


Evidence = Given | TooSoon | WeekOver | Left | LeftTwice | Absent | Handled | Waiting | Load | Deaths | WaterFound
Advice = Literal[
    "stop_today",
    "look_for_leftovers",
    "pause_fine",
    "take_out_or_undo",
    "pause_fine_or_undo",
    "pause_fine_and_cut",
    "let_next_go_if_hazy",
    "give_as_planned_watch_haze",
    "undo_slip_or_pause_fine",
    "leave_out_this_week",
    "keep_to_plan",
    "let_next_go",
    "pause_sort",
    "take_out_and_hold",
    "take_out",
    "leave_out_once",
    "give_as_planned",
    "stir_first",
    "open_fresh",
    "draw_first",
    "undo_slip_or_look",
    "undo_slip",
    "clear_and_test",
    "look_at_water",
    "give_next_round",
    "feed_or_note",
    "look_what_changed",
    "check_meter_and_make_up",
    "bring_back_slowly",
    "read_again",
    "find_cause",
]
"""The one thing to do about a flag."""
