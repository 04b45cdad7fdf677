"""What one serving comes to: its part of the ration, what the tank has shown it takes, and what a hand can measure."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from math import ceil
from typing import Final

from schedules.amounts.ration.daily import Ration, daily_ration
from schedules.amounts.ration.hand import FITS, dose_class, dry_mg, smallest_mg, smallest_part
from schedules.amounts.ration.level import Level, level_of
from schedules.history import History
from schedules.ledger import Reason
from schedules.room import Feed, FeedRules, Room, Tank, Tools

LONGEST_PIECE_GAP: Final = 7
"""A piece too large for a tank is still given once a week, and taken out after its hours."""
LONGEST_GAP: Final = 90
_HAIR: Final = 1 + 1e-9


@dataclass(frozen=True, slots=True)
class Amount:
    """An amount as it is given: `measures` of `unit`, what that weighs in mg, the part of the ration it takes.

    `mixed`: it is given by volume, so `measures` need not be measurable. `part` is never above the part asked for:
    what rounding adds does not count. `rounded_mg` is what rounding added or, below zero, took off. `note` says why it
    is not the usual amount, None where it is.
    """

    measures: float
    unit: str
    mg: float
    part: float
    mixed: bool = False
    rounded_mg: float = 0.0
    note: Reason | None = None


@dataclass(frozen=True, slots=True)
class Asked:
    """A serving before it is measured: the ration, the part of it, the level the tank has shown (None: not known)."""

    ration: Ration
    part: float
    level: Level | None

    @property
    def mg(self) -> float:
        """What should be given, mg."""
        return self.ration.mg * self.part * (1.0 if self.level is None else self.level.value)


def asked(
    tank: Tank, feed: Feed, part: float, day: date, room: Room | None = None, history: History | None = None
) -> Asked:
    """A serving before it is measured. Without a history nothing is known of the tank and the level is left out."""
    level = None if history is None else level_of(history, tank, feed, day)
    return Asked(daily_ration(tank, feed, day, room), min(max(part, 0.0), 1.0), level)


def serving(
    tank: Tank,
    feed: Feed,
    part: float,
    day: date,
    *,
    room: Room | None = None,
    history: History | None = None,
    draw_off: bool = False,
) -> Amount:
    """What a serving that takes a part (0 to 1) of its table's ration comes to, in what a hand can measure.

    `history` brings in what the tank has shown it takes. With `draw_off` it is to draw the adults from a powder, so
    that there is a piece for every so many of them. Whether leftovers hold it back is another question (`hold_on`).
    """
    rules = tank.feeds.get(feed.id, feed.rules)
    tools = Tools() if room is None else room.tools
    wanted = asked(tank, feed, part, day, room, history)
    if feed.extra:
        return _pieces(feed, max(1, round(wanted.ration.label_mg / feed.measure.mg)))
    least = drawing_mg(tank, feed, day, tools, wanted.ration.mg) if draw_off else 0.0
    return fit(wanted, feed, rules, tools, least)


def _pieces(feed: Feed, count: int) -> Amount:
    return Amount(float(count), feed.measure.name, count * feed.measure.mg, 0.0)


def fit(wanted: Asked, feed: Feed, rules: FeedRules, tools: Tools, least_mg: float = 0.0) -> Amount:
    """A serving as it can be given: by volume out of a mix, or dry to the nearest part a hand can make, never "0"."""
    why = None if wanted.level is None or wanted.level.value >= 1 else wanted.level.why
    crumb = smallest_part(feed.measure) * feed.measure.mg
    if feed.kind == "mineral" and wanted.part > 0:
        return _amount(max(crumb, dry_mg(feed, wanted.mg, tools)), wanted, feed, why)
    if wanted.mg <= 0:
        return _amount(0.0, wanted, feed, Reason("nobody") if wanted.ration.mg <= 0 else why)
    if by_volume(feed, rules, tools):
        return _amount(dose_class(wanted.mg, tools.doses_ml, wanted.ration.most_mg), wanted, feed, why, mixed=True)
    if least_mg > wanted.mg:
        return _amount(dry_mg(feed, least_mg, tools), wanted, feed, Reason("draws"))
    if wanted.mg >= FITS * smallest_mg(feed):
        return _amount(dry_mg(feed, wanted.mg, tools), wanted, feed, why)
    if feed.may_be_ground and can_mix(tools):
        mg = dose_class(wanted.mg, tools.doses_ml, wanted.ration.most_mg)
        return _amount(mg, wanted, feed, Reason("ground"), mixed=True)
    return _amount(dry_mg(feed, wanted.mg, tools), wanted, feed, Reason("smallest_part"))


def _amount(mg: float, wanted: Asked, feed: Feed, note: Reason | None, *, mixed: bool = False) -> Amount:
    full = wanted.ration.mg
    part = min(mg / full, wanted.part) if full > 0 else wanted.part if mg > 0 else 0.0
    return Amount(mg / feed.measure.mg, feed.measure.name, mg, part, mixed, mg - wanted.mg, note)


def by_volume(feed: Feed, rules: FeedRules, tools: Tools) -> bool:
    """Whether a feed is given out of a mix: fine feed that is premixed or goes into the flow."""
    return feed.fine and rules.method in ("premixed", "flow") and can_mix(tools)


def can_mix(tools: Tools) -> bool:
    """Whether the keeper has anything to give a mix with."""
    return bool(tools.syringes or tools.cups)


DRAW_MOST: Final = 1.5
"""Pieces that draw may come to this many rations; the ration itself may be off by twice."""


def drawing_mg(tank: Tank, feed: Feed, day: date, tools: Tools, ration_mg: float) -> float:
    """What a drawing feed has to weigh so that there is a piece for every `adults_per_piece` adults, mg.

    Whole pieces, or the largest parts of pieces that stay within the ration; nothing where shrimplets and adults do not
    share the tank. How many adults one piece draws is common practice, no source.
    """
    adults, young = tank.count("adult", day), tank.count("shrimplet", day)
    if not feed.draws or adults == 0 or young == 0:
        return 0.0
    pieces = ceil(adults / tools.adults_per_piece)
    step = smallest_part(feed.measure)
    whole = feed.measure.mg
    parts = [part for part in (1.0, 0.5, 0.25, step) if part >= step]
    fits = [part for part in parts if pieces * part * whole <= DRAW_MOST * ration_mg]
    return pieces * max(fits, default=0.0) * whole


@dataclass(frozen=True, slots=True)
class PieceRule:
    """How the least piece of a solid feed changes its planning in a tank: its least part, its shortest gap in days."""

    share: float
    min_gap: int


def piece_rule(
    tank: Tank, feed: Feed, rules: FeedRules, day: date, room: Room | None = None, history: History | None = None
) -> PieceRule:
    """The least part and shortest gap of a feed in a tank, where its smallest piece is more than its least serving.

    A piece within the day's ration takes the part that it is; a larger one takes the whole day and is given again when
    as many days' rations have gone by, at the latest after a week.
    """
    tools = Tools() if room is None else room.tools
    full = asked(tank, feed, 1.0, day, room, history).mg
    if feed.extra or feed.kind == "mineral" or by_volume(feed, rules, tools) or feed.may_be_ground or full <= 0:
        return PieceRule(rules.share, rules.min_gap)
    days = FITS * smallest_mg(feed) / full
    if days <= rules.share:
        return PieceRule(rules.share, rules.min_gap)
    gap = max(rules.min_gap, min(LONGEST_PIECE_GAP, ceil(days)))
    return PieceRule(min(max(rules.share, days), rules.most), gap)
