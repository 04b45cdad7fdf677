"""What one tank needs: its clocks as they really are there, each with the feeds that answer it and its wanted days.

From the room's and the tank's settings to the clocks of a tank: kinds without a feed have none, a keeper's own
`per_week` or `max_gap` on a feed counts, and shortest gaps fall where the days of a table could not be filled.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import date, timedelta
from math import ceil, floor

from schedules.room.clocks import (
    EXTRA_MAX_GAP,
    EXTRA_MIN_GAP,
    EXTRA_OVERDUE,
    EXTRA_PER_WEEK,
    FIRST_FINE_DAYS,
    OWN_CLOCK_OVERDUE,
    Audience,
    ClockRules,
    own_clock_id,
)
from schedules.room.kinds import Stage
from schedules.room.model import Feed, FeedRules, Presence, Room, Tank
from schedules.room.spans import Span, joined, overlap, run_start, without

DAYS_A_WEEK = 7


@dataclass(frozen=True, slots=True)
class TankClock:
    """One clock of a tank: its rules there, the ids of the feeds that answer it, the runs of its wanted days."""

    rules: ClockRules
    feeds: tuple[str, ...]
    spans: tuple[Span, ...]

    def wanted_on(self, day: date) -> bool:
        """Whether the tank has this need on a day; on other days the clock spaces nothing."""
        return run_start(self.spans, day) is not None


def clocks_of(room: Room, tank: Tank) -> dict[str, TankClock]:
    """The clocks of a tank by id: first those of the table, then those that single feeds have of their own.

    Worked out once for each tank of a room.
    """
    if room.tanks.get(tank.id) is not tank:
        return _clocks(room, tank)
    known: dict[str, dict[str, TankClock]] = room.needs
    if tank.id not in known:
        known[tank.id] = _clocks(room, tank)
    return known[tank.id]


def _clocks(room: Room, tank: Tank) -> dict[str, TankClock]:
    feeds = {feed: room.feeds[feed] for feed in tank.feeds}
    answers = {
        name: _answering(rules, feeds.values())
        for name, usual in room.clocks.items()
        if _answering(rules := tank.clocks.get(name, usual), feeds.values())
    }
    rules_by_name = {name: tank.clocks.get(name, room.clocks[name]) for name in answers}
    settled = _filled(_with_own_words(rules_by_name, answers, tank))
    found = {
        name: TankClock(rules, tuple(feed.id for feed in answers[name]), _spans(rules.audience, tank, answers[name]))
        for name, rules in settled.items()
    }
    found |= _own_clocks(tank, feeds.values(), answers)
    return {name: clock for name, clock in found.items() if clock.spans}


def feed_spans(tank: Tank, clocks: Mapping[str, TankClock], feed: Feed) -> tuple[Span, ...]:
    """The runs of days on which a feed is wanted in a tank: by any clock it answers, for animals it is for."""
    return joined(
        span
        for clock in clocks.values()
        if feed.id in clock.feeds
        for span in _spans(clock.rules.audience, tank, (feed,))
    )


def stage_spans(tank: Tank, stages: frozenset[Stage]) -> tuple[Span, ...]:
    """The runs of days on which a tank holds animals of any of these stages."""
    return joined(_days(here) for here in tank.animals if here.stage in stages and here.count > 0)


def _answering(rules: ClockRules, feeds: Iterable[Feed]) -> tuple[Feed, ...]:
    """The feeds that answer a clock: of its kinds, for some of its animals, and no extras."""
    stages = rules.audience.stages | rules.audience.where_grazing_is_poor
    return tuple(feed for feed in feeds if feed.kind in rules.kinds and not feed.extra and feed.stages & stages)


def _with_own_words(
    clocks: Mapping[str, ClockRules], answers: Mapping[str, tuple[Feed, ...]], tank: Tank
) -> dict[str, ClockRules]:
    """Clocks after the keeper's own `per_week` and `max_gap` on the feeds that answer them."""
    return {name: _own_word(rules, [tank.feeds[feed.id] for feed in answers[name]]) for name, rules in clocks.items()}


def _own_word(rules: ClockRules, feeds: list[FeedRules]) -> ClockRules:
    weeks = [feed.per_week for feed in feeds if feed.per_week is not None]
    gaps = [feed.max_gap for feed in feeds if feed.max_gap is not None]
    if len(rules.kinds) > 1:
        return _table_gives_way(rules, feeds, weeks, gaps)
    if len(feeds) == 1:
        return _only_feed(rules, feeds[0])
    if rules.per_week is None or not weeks:
        return rules
    own = sum(weeks)
    days = min(DAYS_A_WEEK, own if len(weeks) == len(feeds) else max(rules.per_week, own))
    return replace(_room_for(rules, days), per_week=days)


def _only_feed(rules: ClockRules, own: FeedRules) -> ClockRules:
    """A clock that a single feed answers, after the keeper's words on that feed."""
    max_gap = rules.max_gap if own.max_gap is None else own.max_gap
    if own.max_gap is None and max_gap is not None and own.per_week is not None:
        max_gap = max(max_gap, ceil(DAYS_A_WEEK / own.per_week))
    per_week = rules.per_week if own.per_week is None else own.per_week
    min_gap = rules.min_gap if own.min_gap == 1 else min(rules.min_gap, own.min_gap)
    changed = replace(
        rules,
        min_gap=min_gap if max_gap is None else min(min_gap, max_gap),
        max_gap=max_gap,
        per_week=per_week,
        overdue=None if max_gap is None else rules.overdue or OWN_CLOCK_OVERDUE,
    )
    return changed if own.per_week is None else _room_for(changed, own.per_week)


def _table_gives_way(rules: ClockRules, feeds: list[FeedRules], weeks: list[float], gaps: list[int]) -> ClockRules:
    """A table's clock asks for no more than the keeper's own words on all of its feeds leave."""
    if rules.per_week is not None and len(weeks) == len(feeds) and sum(weeks) < rules.per_week:
        gap = None if rules.max_gap is None else max(rules.max_gap, ceil(DAYS_A_WEEK / sum(weeks)))
        rules = replace(rules, per_week=sum(weeks), max_gap=gap)
    if rules.max_gap is not None and len(gaps) == len(feeds):
        rules = replace(rules, max_gap=max(rules.max_gap, min(gaps)))
    return rules


def _filled(clocks: dict[str, ClockRules]) -> dict[str, ClockRules]:
    """Clocks with shortest gaps that let each table have its days.

    Sorts without a target of their own fill what the others leave of a table's days; where there is none of these, the
    others take over in proportion.
    """
    tables = [rules for rules in clocks.values() if rules.table is not None and len(rules.kinds) > 1]
    for table in sorted(tables, key=lambda rules: rules.per_week or 0.0):
        if table.per_week is None:
            continue
        sorts = {name: rules for name, rules in clocks.items() if len(rules.kinds) == 1 and rules.kinds <= table.kinds}
        fillers = [name for name, rules in sorts.items() if rules.per_week is None]
        asked = sum(rules.per_week for rules in sorts.values() if rules.per_week is not None)
        if fillers:
            for name in fillers:
                clocks[name] = _room_for(clocks[name], (table.per_week - asked) / len(fillers))
        elif len(sorts) == 1 and asked < table.per_week:
            (name,) = sorts
            clocks[name] = replace(_room_for(clocks[name], table.per_week), per_week=None)
        elif asked < table.per_week:
            for name, rules in sorts.items():
                days = min(DAYS_A_WEEK, (rules.per_week or 0.0) * table.per_week / asked)
                clocks[name] = replace(_room_for(rules, days), per_week=days)
    return clocks


def _room_for(rules: ClockRules, days: float) -> ClockRules:
    """A clock whose shortest gap leaves room for so many days a week, where it may fall."""
    if not rules.min_gap_falls or days <= 0:
        return rules
    return replace(rules, min_gap=max(1, min(rules.min_gap, floor(DAYS_A_WEEK / days))))


def _own_clocks(tank: Tank, feeds: Iterable[Feed], answers: Mapping[str, tuple[Feed, ...]]) -> dict[str, TankClock]:
    """Clocks of single feeds: of extras, and of feeds beside others of their kind that the keeper gave a word on."""
    found: dict[str, TankClock] = {}
    for feed in feeds:
        own = tank.feeds[feed.id]
        beside = any(
            feed in answering and len(answering) > 1 and len({other.kind for other in answering}) == 1
            for answering in answers.values()
        )
        if feed.extra or (beside and (own.per_week is not None or own.max_gap is not None)):
            rules = _rules_of_its_own(feed, own)
            spans = _spans(rules.audience, tank, (feed,))
            found[own_clock_id(feed.id)] = TankClock(rules, (feed.id,), spans)
    return found


def _rules_of_its_own(feed: Feed, own: FeedRules) -> ClockRules:
    audience, kinds = Audience(feed.stages), frozenset((feed.kind,))
    if not feed.extra:
        overdue = None if own.max_gap is None else OWN_CLOCK_OVERDUE
        return ClockRules(kinds, audience, own.min_gap, own.max_gap, own.per_week, overdue, False)
    max_gap = EXTRA_MAX_GAP if own.max_gap is None else own.max_gap
    per_week = EXTRA_PER_WEEK if own.per_week is None else own.per_week
    min_gap = max(1, min(EXTRA_MIN_GAP, max_gap, floor(DAYS_A_WEEK / per_week)))
    return ClockRules(kinds, audience, min_gap, max_gap, per_week, EXTRA_OVERDUE, False)


def _spans(audience: Audience, tank: Tank, feeds: Iterable[Feed]) -> tuple[Span, ...]:
    """The runs of days on which a tank holds animals that have a need which one of these feeds answers."""
    fed = frozenset[Stage]().union(*(feed.stages for feed in feeds))
    stages = audience.stages | (audience.where_grazing_is_poor if tank.grazing == "poor" else frozenset())
    here = [animals for animals in tank.animals if animals.stage in stages & fed and animals.count > 0]
    young = [(hatch, animals) for animals in here if (hatch := _hatched(animals)) is not None]
    fresh = [
        span
        for hatch, animals in young
        for span in overlap(_days(animals), Span(hatch, _later(hatch, FIRST_FINE_DAYS - 1)))
    ]
    if audience.after_hatch:
        return joined(fresh)
    spans = [_days(animals) for animals in here]
    if audience.before_hatch:
        spans += [Span(_later(hatch, -audience.before_hatch), _later(hatch, -1)) for hatch, _ in young]
    return without(spans, fresh) if audience.not_after_hatch else joined(spans)


def _hatched(animals: Presence) -> date | None:
    return animals.hatch_day if animals.stage == "shrimplet" else None


def _days(animals: Presence) -> Span:
    return Span(animals.first or date.min, animals.last or date.max)


def _later(day: date, days: int) -> date:
    return day + timedelta(days=days)
