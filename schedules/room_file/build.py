"""From a checked room file to a `Room`: units settled, defaults filled in, overrides applied."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from datetime import date, time, timedelta
from math import ceil
from typing import Final
from zoneinfo import ZoneInfo

from schedules.room import (
    ClockRules,
    Feed,
    FeedRules,
    Keeper,
    Measure,
    Packs,
    Presence,
    QuarantineRules,
    Rack,
    Room,
    RoundTime,
    Tank,
    Units,
    Water,
)
from schedules.room.clocks import DEFAULT_CLOCKS, OWN_CLOCK_OVERDUE
from schedules.room.kinds import DRAWING, KIND_DEFAULTS, STEP_OF_BREAK, Breaks, KindDefault
from schedules.room.units import celsius_from, degrees_from, litres_from
from schedules.room_file.chores.build import chore_of, placing_of
from schedules.room_file.equipment import appetite_of, tools_of
from schedules.room_file.makeup import footprint_of, salt_of, water_of
from schedules.room_file.schema.feeds import ClockSpec, FeedSpec, PacksSpec, RulesSpec
from schedules.room_file.schema.keepers import KeeperSpec
from schedules.room_file.schema.room import RoomSpec
from schedules.room_file.schema.tanks import AnimalsSpec, TankSpec, WaterSpec
from schedules.room_file.schema.values import NONE
from schedules.room_file.water import bands_of, water_rules

DEFAULT_ROUND: Final = RoundTime("morning", time(7, 0))


def build_room(spec: RoomSpec) -> Room:
    """The room that a file without faults describes."""
    units = Units(us=spec.units == "us", hardness_mg_per_litre=spec.hardness == "mg/L")
    rounds = tuple(sorted((RoundTime(walk.id, walk.at) for walk in spec.rounds), key=lambda walk: walk.at))
    rounds = rounds or (DEFAULT_ROUND,)
    feeds = {feed.id: _feed(feed, rounds[0].id, units) for feed in spec.feeds}
    clocks = DEFAULT_CLOCKS | {name: clock_rules(DEFAULT_CLOCKS[name], set_) for name, set_ in spec.clocks.items()}
    placing = placing_of(spec)
    water = water_rules(spec.water, units)
    return Room(
        name=spec.name,
        zone=ZoneInfo(spec.time_zone),
        units=units,
        keepers=tuple(_keeper(keeper) for keeper in spec.keepers),
        rounds=rounds,
        racks=tuple(Rack(rack.id, rack.name or rack.id, tuple(tank.id for tank in rack.tanks)) for rack in spec.racks),
        tanks={
            tank.id: replace(
                _tank(tank, rack.id, feeds, clocks, units),
                bands=bands_of(tank.bands, water.bands, units),
                quarantine_days=(tank.quarantine_days or spec.quarantine.days) if tank.quarantine else None,
            )
            for rack in spec.racks
            for tank in rack.tanks
        },
        feeds=feeds,
        appetite=appetite_of(spec.appetite, units),
        tools=tools_of(spec.tools, units),
        quarantine=QuarantineRules(spec.quarantine.days, spec.quarantine.ends, spec.quarantine.tools),
        clocks=clocks,
        ledger=spec.ledger,
        chores=tuple(chore_of(chore, placing, rounds[0].id) for chore in spec.chores),
        water=water,
        waters={water.id: water_of(water, units) for water in spec.waters},
        salts={salt.id: salt_of(salt, units) for salt in spec.salts},
    )


def clock_rules(usual: ClockRules, spec: ClockSpec) -> ClockRules:
    """A clock with what the file sets in place of the usual.

    Fewer days a week than the usual longest gap allows make that gap longer, unless it is set too; a longest gap
    without a weight gets the usual weight.
    """
    max_gap, per_week = usual.max_gap, usual.per_week
    if spec.max_gap is not None:
        max_gap = None if spec.max_gap == NONE else spec.max_gap
    if spec.per_week is not None:
        per_week = None if spec.per_week == NONE else spec.per_week
        if spec.max_gap is None and max_gap is not None and per_week is not None:
            max_gap = max(max_gap, ceil(7 / per_week))
    overdue = usual.overdue if spec.overdue is None else spec.overdue
    return replace(
        usual,
        min_gap=usual.min_gap if spec.min_gap is None else spec.min_gap,
        max_gap=max_gap,
        per_week=per_week,
        overdue=None if max_gap is None else overdue or OWN_CLOCK_OVERDUE,
        rotate=usual.rotate if spec.rotate is None else spec.rotate,
        min_gap_falls=usual.min_gap_falls and spec.min_gap is None,
    )


def feed_rules(spec: FeedSpec) -> FeedRules:
    """A feed's rules: what the file says, else what is usual for its kind."""
    default = KIND_DEFAULTS[spec.kind]
    usual = FeedRules(
        min_gap=1,
        max_gap=None,
        per_week=None,
        share=default.share,
        minutes=default.minutes,
        method=default.method,
        gone_after_hours=default.gone_after_hours,
        even_on_days_off=default.even_on_days_off,
        most=default.most,
    )
    rules = overridden(usual, spec)
    return replace(rules, share=0.0, most=0.0) if spec.extra else rules


def overridden(rules: FeedRules, spec: RulesSpec) -> FeedRules:
    """Rules with those that the file sets put in the place of the others."""
    return FeedRules(
        min_gap=rules.min_gap if spec.min_gap is None else spec.min_gap,
        max_gap=rules.max_gap if spec.max_gap is None else spec.max_gap,
        per_week=rules.per_week if spec.per_week is None else spec.per_week,
        share=rules.share if spec.share is None else spec.share,
        minutes=rules.minutes if spec.minutes is None else spec.minutes,
        method=rules.method if spec.method is None else spec.method,
        gone_after_hours=rules.gone_after_hours if spec.gone_after_hours is None else spec.gone_after_hours,
        most=rules.most if spec.most is None else spec.most,
        even_on_days_off=rules.even_on_days_off if spec.even_on_days_off is None else spec.even_on_days_off,
    )


def _feed(spec: FeedSpec, first_round: str, units: Units) -> Feed:
    default = KIND_DEFAULTS[spec.kind]
    measure = Measure(
        spec.measure.name or default.measure_name,
        spec.measure.mg or default.measure_mg,
        spec.measure.step or (STEP_OF_BREAK[spec.breaks] if spec.breaks else default.measure_step),
    )
    return Feed(
        id=spec.id,
        name=spec.name or spec.id,
        kind=spec.kind,
        stages=frozenset(default.stages if spec.stages is None else spec.stages),
        round=spec.round or first_round,
        measure=measure,
        protein=default.protein if spec.protein is None else spec.protein / 100,
        label_mg_per_litre=_label(spec, measure, default, units),
        best_before=spec.best_before,
        rules=feed_rules(spec),
        draws=(spec.kind in DRAWING and not spec.extra) if spec.draws is None else spec.draws,
        extra=spec.extra,
        known=spec.known,
        breaks=spec.breaks or _breaks(measure.step),
        may_be_ground=spec.may_be_ground,
        wet_hours=spec.wet_hours,
        packs=_packs(spec.packs),
    )


def _packs(spec: PacksSpec) -> Packs:
    usual = Packs()
    return Packs(spec.grams, usual.lead_days if spec.lead_days is None else spec.lead_days, spec.keeps_days)


def _breaks(step: float) -> Breaks:
    """How far a piece can be divided of which `step` is the smallest part."""
    return next((name for name, least in STEP_OF_BREAK.items() if step >= least), "crumb")


def _label(spec: FeedSpec, measure: Measure, default: KindDefault, units: Units) -> float:
    """The label's amount in mg per litre; the usual one follows from what the kind's usual measure weighs."""
    if spec.label is None:
        return default.measure_mg / default.label_litres_per_measure
    return spec.label.measures * measure.mg / litres_from(spec.label.per, units)


def _tank(spec: TankSpec, rack: str, feeds: dict[str, Feed], clocks: Mapping[str, ClockRules], units: Units) -> Tank:
    rules: dict[str, FeedRules] = {}
    for feed in feeds.values():
        override = spec.overrides.get(feed.id)
        if (spec.feeds is None or feed.id in spec.feeds) and (override is None or override.use):
            rules[feed.id] = feed.rules if override is None else overridden(feed.rules, override)
    return Tank(
        id=spec.id,
        name=spec.name or spec.id,
        rack=rack,
        place=spec.place or "",
        litres=litres_from(spec.volume, units),
        animals=tuple(_presence(here) for here in spec.animals),
        surface=spec.surface,
        grazing=spec.grazing,
        rest_weekday=spec.rest,
        quarantine=spec.quarantine,
        water=_water(spec.water, units),
        feeds=rules,
        ration_mg=spec.ration_mg,
        line=spec.line,
        generation=spec.generation,
        footprint_cm2=footprint_of(spec.inside, litres_from(spec.volume, units), units),
        clocks={name: clock_rules(clocks[name], set_) for name, set_ in spec.clocks.items()},
    )


def _presence(spec: AnimalsSpec) -> Presence:
    return Presence(spec.stage, spec.count, spec.berried, spec.first, spec.last, spec.length, spec.hatched)


def _water(spec: WaterSpec, units: Units) -> Water:
    return Water(
        temperature=None if spec.temperature is None else celsius_from(spec.temperature, units),
        ph=spec.ph,
        gh=None if spec.gh is None else degrees_from(spec.gh, units),
        kh=None if spec.kh is None else degrees_from(spec.kh, units),
        tds=spec.tds,
    )


def _keeper(spec: KeeperSpec) -> Keeper:
    weekdays, dates = set[int](), set[date]()
    for day_off in spec.days_off:
        if isinstance(day_off, int):
            weekdays.add(day_off)
        else:
            first, last = day_off
            dates.update(first + timedelta(days=number) for number in range((last - first).days + 1))
    return Keeper(spec.name, frozenset(weekdays), frozenset(dates), spec.off_rules, spec.off_from, spec.phone)
