"""What one serving comes to: the ration, its share, what the tank has shown it takes, and what can be measured."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date
from math import ceil

from schedules.amounts.ration.daily import daily_ration
from schedules.amounts.ration.hold import hold_on
from schedules.amounts.ration.level import Level, level_of
from schedules.amounts.ration.measurable import measured, mixed_mg, smallest_part
from schedules.formatting import amount_text, mg_text
from schedules.history import History
from schedules.room import Feed, FeedRules, Room, Tank
from schedules.rules import FULL_DAY

LONGEST_GAP = 90
_HAIR = 1 + 1e-9


@dataclass(frozen=True, slots=True)
class Amount:
    """An amount as it is given: `measures` of `unit`, what that weighs in mg, and its share of the day's ration.

    `mixed` tells that it goes into a mix and is given by volume, so `measures` need not be measurable. `lost_mg` is
    what rounding down took off and is not made up for later. `note` says in a few words why it is not the usual
    serving, empty where it is.
    """

    measures: float
    unit: str
    mg: float
    share: float
    mixed: bool = False
    lost_mg: float = 0.0
    note: str = ""

    @property
    def text(self) -> str:
        """The amount in words: `½ pellet`, or `44 mg in the mix`."""
        return f"{mg_text(self.mg)} in the mix" if self.mixed and self.mg else amount_text(self.measures, self.unit)


@dataclass(frozen=True, slots=True)
class Usual:
    """A usual serving before it is measured: the ration, the share it may take of it, the level of the tank."""

    ration_mg: float
    share: float
    level: Level | None

    @property
    def mg(self) -> float:
        """What should be given, mg."""
        return self.ration_mg * self.share * (1.0 if self.level is None else self.level.value)


def usual_serving(
    tank: Tank,
    feed: Feed,
    rules: FeedRules,
    day: date,
    *,
    room: Room | None = None,
    history: History | None = None,
    alone: bool = False,
) -> Usual:
    """A serving before it is measured. Without a history nothing is known of the tank and the level is left out."""
    share = max(rules.share, rules.alone or 0.0) if alone else rules.share
    level = None if history is None else level_of(history, tank, feed.id, rules, day)
    return Usual(daily_ration(tank, feed, day, room).mg, min(share, FULL_DAY), level)


def serving_amount(
    tank: Tank,
    feed: Feed,
    rules: FeedRules,
    day: date,
    *,
    room: Room | None = None,
    history: History | None = None,
    alone: bool = False,
) -> Amount:
    """What a serving of a feed to a tank on a day should come to: measurable, and never above its share of the ration.

    `history` makes a new feed start at half, leftovers cut it and most left hold a solid feed back (an amount of
    nothing); `alone` lets the feed take what its rule allows where the tank gets nothing else that day.
    """
    if room is not None and history is not None:
        hold = hold_on(room, history, tank.id, feed, day)
        if hold is not None:
            left = room.feeds[hold.feed].name
            return Amount(0.0, feed.measure.name, 0.0, 0.0, note=f"held back: most of {left} was left")
    usual = usual_serving(tank, feed, rules, day, room=room, history=history, alone=alone)
    return fit(usual, feed, rules, mixable=can_mix(room))


def fit(usual: Usual, feed: Feed, rules: FeedRules, *, mixable: bool = True) -> Amount:
    """A usual serving as it can be given: into a mix, rounded down to what can be measured, or nothing."""
    why = "" if usual.level is None or usual.level.value >= 1 else usual.level.why
    if rules.method in ("premixed", "flow") and mixable:
        return _amount(mixed_mg(usual.mg), usual, feed, why, mixed=True)
    part_mg = smallest_part(feed.measure) * feed.measure.mg
    mg = measured(usual.mg, feed.measure) * feed.measure.mg
    if mg > 0 or usual.mg <= 0:
        return _amount(mg, usual, feed, why or ("" if usual.ration_mg > 0 else "nobody here to feed"))
    smallest = amount_text(smallest_part(feed.measure), feed.measure.name)
    if not feed.fine and part_mg <= usual.ration_mg * usual.share * _HAIR:
        return _amount(part_mg, usual, feed, f"{smallest} is the smallest part, so it is given less often")
    if mixable:
        how = "stirred into a mix" if feed.fine else "ground into a mix"
        return _amount(mixed_mg(usual.mg), usual, feed, f"less than {smallest}: {how}", mixed=True)
    return _amount(0.0, usual, feed, f"{smallest} would be too much, and there is nothing to mix with")


def _amount(mg: float, usual: Usual, feed: Feed, note: str, *, mixed: bool = False) -> Amount:
    share = min(mg / usual.ration_mg, FULL_DAY) if usual.ration_mg > 0 else 0.0
    lost = max(0.0, usual.mg - mg)
    return Amount(mg / feed.measure.mg, feed.measure.name, mg, share, mixed, lost, note)


def can_mix(room: Room | None) -> bool:
    """Whether the keeper has anything to give a mix with."""
    return room is None or bool(room.tools.syringes or room.tools.cups)


def planning_rules(
    tank: Tank, feed: Feed, rules: FeedRules, day: date, *, room: Room | None = None, history: History | None = None
) -> FeedRules:
    """The rules by which a feed is planned from a day on, where its smallest part is more than a usual serving.

    A solid feed that cannot be broken small enough then takes the share that its smallest part takes up and is given
    less often, its weekly target lowered and its maximum gap raised alike; so the week's mass stays what it was. Every
    other feed, and one whose smallest part is more than a whole day's ration, keeps its rules.
    """
    if feed.fine or rules.method in ("premixed", "flow"):
        return rules
    usual = usual_serving(tank, feed, rules, day, room=room, history=history)
    part_mg = smallest_part(feed.measure) * feed.measure.mg
    if usual.mg <= 0 or part_mg <= usual.mg * _HAIR or part_mg > usual.ration_mg * FULL_DAY:
        return rules
    seldom = usual.mg / part_mg
    return replace(
        rules,
        share=max(rules.share, part_mg / usual.ration_mg),
        per_week=rules.per_week * seldom,
        max_gap=max(rules.min_gap, min(LONGEST_GAP, ceil(rules.max_gap / seldom))),
    )
