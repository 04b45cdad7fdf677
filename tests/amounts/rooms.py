"""A small invented room and its past, for the checks on amounts and flags."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from datetime import date, datetime, time, timedelta
from zoneinfo import ZoneInfo

from schedules.history import LOOK_BACK_DAYS, History
from schedules.ledger.entries import Came, Entry, Leftovers, Observed, PostedServing, Posting, Response, Served, What
from schedules.ledger.standing import standing
from schedules.room import (
    Feed,
    FeedRules,
    Keeper,
    Measure,
    Presence,
    Rack,
    Room,
    RoundTime,
    Tank,
    Units,
    Water,
)
from schedules.room.kinds import DRAWING, KIND_DEFAULTS, Kind, is_fine

TODAY = date(2026, 11, 25)
SPOON = Measure("spoon", 120.0, 0.25)
PELLET = Measure("pellet", 60.0, 0.5)
ZONE = ZoneInfo("Europe/Vienna")


def at(day: date, hour: int = 7, minute: int = 5) -> datetime:
    """An instant on a day in the room's zone."""
    return datetime.combine(day, time(hour, minute), ZONE)


def days_ago(days: int) -> date:
    return TODAY - timedelta(days=days)


def make_feed(feed_id: str, kind: Kind, **changes: object) -> Feed:
    """A feed with its kind's rules, 3 mg/L on the label, in quarter spoons of 120 mg or half pellets of 60 mg.

    `changes` go to the feed or to its rules, whichever has the name.
    """
    usual = KIND_DEFAULTS[kind]
    rules = FeedRules(
        1,
        None,
        None,
        usual.share,
        usual.minutes,
        usual.method,
        usual.gone_after_hours,
        usual.even_on_days_off,
        most=usual.most,
    )
    feed = Feed(
        feed_id,
        feed_id.title(),
        kind,
        frozenset(usual.stages),
        "morning",
        SPOON if is_fine(kind) else PELLET,
        usual.protein,
        3.0,
        None,
        rules,
        draws=kind in DRAWING,
    )
    of_rules = {name: value for name, value in changes.items() if name in FeedRules.__dataclass_fields__}
    of_feed = {name: value for name, value in changes.items() if name not in of_rules}
    return replace(feed, rules=replace(rules, **of_rules), **of_feed)  # type: ignore[arg-type]


def make_tank(tank_id: str, feeds: Iterable[Feed], **changes: object) -> Tank:
    """A tank of 40 L with forty adults and sixty shrimplets that takes every feed given."""
    tank = Tank(
        tank_id,
        tank_id.upper(),
        "rack",
        "1",
        40.0,
        (Presence("adult", 40), Presence("shrimplet", 60)),
        "rippled",
        "fair",
        None,
        False,
        Water(),
        {feed.id: feed.rules for feed in feeds},
    )
    return replace(tank, **changes)  # type: ignore[arg-type]


def make_room(feeds: Iterable[Feed], *tanks: Tank) -> Room:
    """A room of one rack and one morning round."""
    listed = tuple(feeds)
    return Room(
        "test room",
        ZONE,
        Units(),
        (Keeper("Mara"),),
        (RoundTime("morning", time(7, 0)),),
        (Rack("rack", "Rack", tuple(tank.id for tank in tanks)),),
        {tank.id: tank for tank in tanks},
        {feed.id: feed for feed in listed},
    )


@dataclass
class Past:
    """A ledger's entries, written down one by one."""

    entries: list[Entry] = field(default_factory=list)
    postings: list[Posting] = field(default_factory=list)

    def write(self, what: What, day: date, minute: int = 5, by: str | None = "Mara") -> Past:
        seq = len(self.entries) + 1
        self.entries.append(Entry(seq, seq, day, at(day, 7, minute), by, what))
        return self

    def gave(self, tank: str, feed: Feed, day: date, share: float, **changes: object) -> Past:
        """A serving written down; its amount is 100 mg for a share of one unless said otherwise."""
        mg = share * 100
        served = Served(tank, feed.id, "morning", mg / feed.measure.mg, feed.measure.name, mg, share, True)
        return self.write(replace(served, **changes), day)  # type: ignore[arg-type]

    def saw(self, tank: str, feed: Feed, day: date, leftovers: Leftovers) -> Past:
        return self.write(Observed(tank, feed.id, leftovers), day, 45)

    def came(self, tank: str, feed: Feed, day: date, response: Response) -> Past:
        return self.write(Came(tank, feed.id, response), day, 15)

    def posted(self, start: date, *days: tuple[PostedServing, ...]) -> Past:
        self.postings.append(Posting(start, days))
        return self

    def history(self, today: date = TODAY) -> History:
        """What now holds, as a ledger would hand it out."""
        first = today - timedelta(days=LOOK_BACK_DAYS)
        held = standing(self.entries)
        served = [(entry.day, entry.what) for entry in held if isinstance(entry.what, Served)]
        before: dict[tuple[str, str], date] = {}
        ever: dict[tuple[str, str], date] = {}
        for day, what in sorted(served, key=lambda found: found[0]):
            ever.setdefault((what.tank, what.feed), day)
            if day < first:
                before[what.tank, what.feed] = day
        recent = tuple(entry for entry in held if first <= entry.day <= today)
        return History(first, today, recent, tuple(self.postings), before, ever)


def due(tank: str, feed: Feed, share: float, mg: float) -> PostedServing:
    """A serving as it was posted."""
    return PostedServing(
        tank, feed.id, feed.round, share, mg / feed.measure.mg, feed.measure.name, mg, feed.rules.method
    )
