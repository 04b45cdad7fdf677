"""Feeds and the rules about them as a room file may describe them."""

from __future__ import annotations

from typing import Annotated

from schedules.room_file.schema.base import Spec
from schedules.room_file.schema.values import (
    BreaksName,
    Day,
    Flag,
    Gap,
    GapOrNone,
    Hours,
    Id,
    KeepsDays,
    KindName,
    LeadDays,
    Measures,
    MethodName,
    Milligrams,
    Minutes,
    Name,
    PackGrams,
    Percent,
    PerWeek,
    PerWeekOrNone,
    Share,
    ShortestGap,
    Some,
    StageName,
    Volume,
    Weight,
    at_most,
)


class ClockSpec(Spec):
    """`[clocks.NAME]`, for the room or for one tank: how often a need is to be answered."""

    min_gap: ShortestGap | None = None
    max_gap: GapOrNone | None = None
    per_week: PerWeekOrNone | None = None
    overdue: Weight | None = None
    rotate: Flag | None = None


class MeasureSpec(Spec):
    """What the keeper measures a feed with: its name, what one weighs, the smallest part that can be measured."""

    name: Name | None = None
    mg: Milligrams | None = None
    step: Measures | None = None


class LabelSpec(Spec):
    """The label's amount for one day: so many measures per so much water, in the room's unit of volume."""

    measures: Measures = 1.0
    per: Volume


class PacksSpec(Spec):
    """How a feed is bought: grams in a pack, days from order to delivery, days for which an open pack keeps."""

    grams: PackGrams | None = None
    lead_days: LeadDays | None = None
    keeps_days: KeepsDays | None = None


class RulesSpec(Spec):
    """The rules of a feed that the keeper may set, for the feed or for one tank."""

    min_gap: Gap | None = None
    max_gap: Gap | None = None
    per_week: PerWeek | None = None
    share: Share | None = None
    most: Share | None = None
    minutes: Minutes | None = None
    method: MethodName | None = None
    gone_after_hours: Hours | None = None
    even_on_days_off: Flag | None = None


class OverrideSpec(RulesSpec):
    """`[racks.tanks.overrides.FEED]`: a tank's own rules for a feed, or `use = false` for none of it."""

    use: Flag = True


class FeedSpec(RulesSpec):
    """`[[feeds]]`: a feed in stock."""

    id: Id
    name: Name | None = None
    kind: KindName
    stages: Annotated[Some[StageName], at_most(20)] | None = None
    round: Id | None = None
    measure: MeasureSpec = MeasureSpec()
    protein: Percent | None = None
    label: LabelSpec | None = None
    best_before: Day | None = None
    draws: Flag | None = None
    extra: Flag = False
    known: Flag = False
    breaks: BreaksName | None = None
    may_be_ground: Flag = False
    wet_hours: Hours | None = None
    packs: PacksSpec = PacksSpec()
