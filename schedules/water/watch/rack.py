"""The tanks of one rack watched together, day by day: what moves in one of them, and what moves in all at once.

What the tanks read on a day have in common is taken out of each before it is judged: a meter that is off by a tenth
says nothing about a tank. What they have in common is judged by itself, as one finding for the rack.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date
from math import log, sqrt
from statistics import median

from schedules.room.water.quantities import Quantity
from schedules.water.watch.findings import Done, Finding, Read, Series
from schedules.water.watch.full import as_full
from schedules.water.watch.level import Level
from schedules.water.watch.settings import (
    ENOUGH,
    LARGE_CHANGE,
    NEAR_DAYS,
    SCALES,
    TOGETHER,
    USUAL_CHANGE,
    Scale,
)


@dataclass(slots=True)
class _Tank:
    """One tank while the watch goes through the days. `low` and `high` are what acts since the last reading may do."""

    tank: str
    level: Level
    usual: float
    last: Read | None = None
    low: float = 0.0
    high: float = 0.0
    unknown: bool = False


@dataclass(slots=True)
class _Today:
    """A reading of today beside its tank: its place on the scale, how far it is from the level and the last one."""

    at: _Tank
    read: Read
    place: float
    off: float | None
    moved: float | None


@dataclass(slots=True)
class _Rack:
    """What the tanks of a rack have in common: how far they are, all together, from their levels."""

    level: Level
    common: float = 0.0
    on: date | None = None


@dataclass(slots=True)
class RackWatch:
    """The watch over one quantity in one rack."""

    quantity: Quantity
    scale: Scale = field(init=False)

    def __post_init__(self) -> None:
        self.scale = SCALES[self.quantity]

    def findings(self, series: Mapping[str, Series]) -> Iterator[Finding]:
        """Steps and drifts of the tanks and of the rack, by day."""
        tanks = {tank: _Tank(tank, Level(self.scale), _usual_change(events)) for tank, events in series.items()}
        rack = _Rack(Level(self.scale))
        # Only a meter shows what evaporated: hardness is counted in drops of a degree.
        series = {tank: as_full(events) for tank, events in series.items()} if self.scale.ratio else series
        for day, events in _by_day(series):
            today = []
            for tank, event in events:
                if isinstance(event, Read):
                    today.append(self._read(tanks[tank], event))
                else:
                    self._done(tanks[tank], event)
            yield from self._judge(rack, day, today)

    def _read(self, tank: _Tank, read: Read) -> _Today:
        place = self.scale.of(read.full)
        off = place - tank.level.mean if len(tank.level.values) >= ENOUGH else None
        return _Today(tank, read, place, off, self._moved(tank, read, place))

    def _moved(self, tank: _Tank, read: Read, place: float) -> float | None:
        """How far a reading is from the one before, less what was done meanwhile can explain."""
        if tank.last is None or tank.unknown or (read.day - tank.last.day).days > NEAR_DAYS:
            return None
        away = place - self.scale.of(tank.last.full)
        return away - min(max(away, tank.low), tank.high)

    def _done(self, tank: _Tank, done: Done) -> None:
        """What an act may change: an unknown water or dose anything, a known one up to so much."""
        begins = done.dose or (not done.added and done.part >= max(LARGE_CHANGE, USUAL_CHANGE * tank.usual))
        if begins:
            tank.level = tank.level.again()
        if done.value is None or tank.last is None:
            # The usual change with the usual water keeps the level; any other may do anything.
            tank.unknown = tank.unknown or begins
            return
        shifts = [0.0, self._shift(tank.last.full, done.part, done.value)]
        if done.added:
            # As much had gone before: only what is in the water comes on top.
            shifts.append(self._shift(tank.last.full, 0.0, 0.0, done.value * done.part))
        tank.low, tank.high = tank.low + min(shifts), tank.high + max(shifts)

    def _shift(self, before: float, part: float, value: float, on_top: float = 0.0) -> float:
        """How far a change of a part for water of a value, with so much on top, moves the tank on the scale."""
        after = before * (1 - part) + value * part + on_top
        return log(max(after, 1.0) / max(before, 1.0)) if self.scale.ratio else after - before

    def _judge(self, rack: _Rack, day: date, today: list[_Today]) -> Iterator[Finding]:
        if not today:
            return
        moved = [each.moved for each in today if each.moved is not None]
        together = median(moved) if len(moved) >= TOGETHER else 0.0
        if self._all_stepped(moved, together):
            yield self._of_rack("rack_step", day, today)
            self._begin_again(rack, today)
        else:
            yield from self._each(rack, day, today, together)
        for each in today:
            each.at.last = each.read
            each.at.low = each.at.high = 0.0
            each.at.unknown = False

    def _each(self, rack: _Rack, day: date, today: list[_Today], together: float) -> Iterator[Finding]:
        off = [each.off for each in today if each.off is not None]
        if len(off) >= TOGETHER:
            rack.common, rack.on = median(off), day
            if self._rack_departed(rack, day, len(off)):
                yield self._of_rack("rack_drift", day, today)
                self._begin_again(rack, today)
                return
        common = rack.common if rack.on is not None and (day - rack.on).days <= NEAR_DAYS else 0.0
        for each in today:
            yield from self._one(each, day, together, common)

    def _one(self, each: _Today, day: date, together: float, common: float) -> Iterator[Finding]:
        tank = each.at
        if each.moved is not None and self._is_step(tank, each.moved - together):
            assert tank.last is not None
            yield self._finding("step", each, tank.last.value, tank.last.day)
            tank.level = tank.level.again()
            tank.level.learn(day, each.place)
        elif tank.level.is_learning(day):
            tank.level.learn(day, each.place)
        elif tank.level.departed(day, each.place - common):
            average = self.scale.back(tank.level.average + common)
            yield self._finding("drift", each, self.scale.back(tank.level.mean), tank.level.until, average)
            tank.level = tank.level.again()
            tank.level.learn(day, each.place)

    def _is_step(self, tank: _Tank, moved: float) -> bool:
        limit = self.scale.rise if moved > 0 else self.scale.fall
        return abs(moved) >= max(limit, 3 * sqrt(2) * tank.level.spread) - 1e-9

    def _all_stepped(self, moved: list[float], together: float) -> bool:
        """Whether most tanks of the rack moved at once, the same way, and together by most of a step."""
        if len(moved) < TOGETHER:
            return False
        limit = (self.scale.rise if together > 0 else self.scale.fall) * 0.6
        along = sum(1 for each in moved if each * together > 0 and abs(each) >= limit / 2)
        return abs(together) >= limit and along >= 0.75 * len(moved)

    def _rack_departed(self, rack: _Rack, day: date, count: int) -> bool:
        if rack.level.is_learning(day):
            rack.level.learn(day, rack.common)
            return False
        return rack.level.departed(day, rack.common) and count >= TOGETHER

    def _begin_again(self, rack: _Rack, today: list[_Today]) -> None:
        rack.level = rack.level.again()
        rack.common, rack.on = 0.0, None
        for each in today:
            each.at.level = each.at.level.again()
            each.at.level.learn(each.read.day, each.place)

    def _of_rack(self, kind: str, day: date, today: list[_Today]) -> Finding:
        """One finding for all tanks read: the one in the middle stands for them."""
        key = "moved" if kind == "rack_step" else "off"
        found = sorted((each for each in today if getattr(each, key) is not None), key=lambda each: getattr(each, key))
        middle = found[len(found) // 2]
        tanks = tuple(each.at.tank for each in today if getattr(each, key) is not None)
        if kind == "rack_step":
            last = middle.at.last
            assert last is not None
            return Finding(
                "rack_step", middle.at.tank, self.quantity, day, middle.read.value, last.value, last.day, tanks=tanks
            )
        before = self.scale.back(middle.at.level.mean)
        return Finding(
            "rack_drift",
            middle.at.tank,
            self.quantity,
            day,
            middle.read.full,
            before,
            middle.at.level.until,
            tanks=tanks,
        )

    def _finding(
        self, kind: str, each: _Today, before: float, since: date | None, value: float | None = None
    ) -> Finding:
        return Finding(
            "step" if kind == "step" else "drift",
            each.at.tank,
            self.quantity,
            each.read.day,
            each.read.value if value is None else value,
            before,
            since,
            count=len(each.at.level.values),
        )


def _usual_change(events: Series) -> float:
    """The part that is usually changed in a tank; 0 where that was done less than three times."""
    parts = [event.part for event in events if isinstance(event, Done) and event.part and not event.added]
    return median(parts) if len(parts) >= 3 else 0.0


def _by_day(series: Mapping[str, Series]) -> Iterator[tuple[date, list[tuple[str, Read | Done]]]]:
    """All tanks' events day by day, each tank's in their order."""
    days: dict[date, list[tuple[str, Read | Done]]] = {}
    for tank, events in series.items():
        for event in events:
            days.setdefault(event.day, []).append((tank, event))
    return ((day, days[day]) for day in sorted(days))
