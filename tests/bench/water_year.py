"""How soon the watch finds what goes wrong in a simulated year, beside plain limits on the same readings.

    python -m tests.bench.water_year [SEEDS] [FIRST] [twice|daily]

Years are drawn from seeds FIRST (100 where nothing is said) and up. The limits are set as narrow as they can be without
more false alarms than the watch makes on the same years, for each quantity by itself: the best that plain limits can do
at the same cost. Limits of a size that a keeper would choose stand beside them.

A fault counts as found by a finding about its quantity in one of its tanks; what is found in tanks where nothing is
wrong, and was not within five weeks before, is a false alarm. A finding for a whole rack counts once.
"""

from __future__ import annotations

import sys
from collections import Counter, defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, timedelta
from statistics import median
from typing import Final

from schedules.room.water.quantities import Quantity
from schedules.water.watch.findings import Done, Event, Read
from schedules.water.watch.rack import RackWatch
from tests.bench.water_room import DAYS, IN_RACK, LASTS, RACKS, TANKS, Episode, Year, year_of

START: Final = date(2026, 1, 1)
WINDOW: Final = 84
"""So many days back a keeper's program knows of."""
SETTLES: Final = 35
"""So long after a fault was mended nothing counts as a false alarm in its tanks."""
QUANTITIES: Final[tuple[Quantity, ...]] = ("tds", "temperature")
Widths = Mapping[Quantity, float]
USUAL: Final[Widths] = {"tds": 0.2, "temperature": 2.5}
"""Plain limits: 20 % from the target, 2.5 °C from the tank's first month."""
TRIED: Final[Mapping[Quantity, tuple[float, ...]]] = {
    "tds": tuple(number / 200 for number in range(8, 121)),
    "temperature": tuple(number / 20 for number in range(10, 121)),
}
"""Limits to choose from, narrow ones first."""
READ: Final = {"twice a week": (1, 4), "daily": tuple(range(7))}


@dataclass(slots=True)
class Tally:
    """Days until each fault was found (None: not at all), and false alarms over so many tank-months."""

    found: dict[str, list[int | None]] = field(default_factory=lambda: defaultdict(list))
    false: Counter[Quantity] = field(default_factory=Counter)
    months: float = 0.0

    @property
    def rate(self) -> float:
        """False alarms a tank and month."""
        return self.false.total() / self.months


Alarm = tuple[int, frozenset[int], Quantity]


def alarms_of_watch(year: Year) -> set[Alarm]:
    """Every finding as a keeper would meet it who looks on each day on which was read."""
    found: dict[tuple[str, frozenset[int], Quantity], list[int]] = defaultdict(list)
    days = sorted({day for tank in year.read for day, _, _ in tank})
    for quantity in QUANTITIES:
        for rack in range(RACKS):
            events = {str(tank): _events(year, tank, quantity) for tank in range(rack * IN_RACK, (rack + 1) * IN_RACK)}
            for today in days:
                first, last = START + timedelta(days=today - WINDOW), START + timedelta(days=today)
                window = {
                    tank: [event for event in each if first <= event.day <= last] for tank, each in events.items()
                }
                for finding in RackWatch(quantity).findings(window):
                    if (last - finding.day).days < 7:
                        tanks = frozenset(int(tank) for tank in finding.tanks or (finding.tank,))
                        known = found[finding.kind, tanks, quantity]
                        if not any(abs(today - day) < 7 for day in known):
                            known.append(today)
    return {(day, tanks, quantity) for (_, tanks, quantity), listed in found.items() for day in listed}


def _events(year: Year, tank: int, quantity: Quantity) -> list[Event]:
    place = 1 if quantity == "tds" else 2
    events: list[Event] = [Read(START + timedelta(days=each[0]), each[place]) for each in year.read[tank]]
    if quantity == "tds":
        events += [Done(START + timedelta(days=day), part) for day, part in year.changed[tank]]
        events += [Done(START + timedelta(days=day), part, 0.0, added=True) for day, part in year.added[tank]]
    return sorted(events, key=lambda event: (event.day, isinstance(event, Read)))


def alarms_of_limits(year: Year, widths: Widths) -> set[Alarm]:
    """The first reading beyond a limit, and each later one after a week."""
    found = set()
    for tank, readings in enumerate(year.read):
        usual = median(celsius for day, _, celsius in readings if day < 30)
        for quantity, width in widths.items():
            last = -99
            for day, solids, celsius in readings:
                off = solids / year.targets[tank] - 1 if quantity == "tds" else celsius - usual
                if abs(off) > width and day - last >= 7:
                    found.add((day, frozenset((tank,)), quantity))
                    last = day
    return found


def count(tally: Tally, year: Year, alarms: set[Alarm]) -> None:
    """Add a year's alarms to a tally."""
    for episode in year.episodes:
        days = [day - episode.start for day, tanks, quantity in alarms if _fits(episode, day, tanks, quantity)]
        tally.found[episode.fault].append(min(days, default=None))
    for day, tanks, quantity in alarms:
        if not any(_excuses(episode, day, tanks, quantity) for episode in year.episodes):
            tally.false[quantity] += 1
    tally.months += TANKS * DAYS / 30.44


def _fits(episode: Episode, day: int, tanks: frozenset[int], quantity: Quantity) -> bool:
    inside = episode.start <= day <= episode.start + LASTS
    return inside and quantity == episode.quantity and not tanks.isdisjoint(episode.tanks)


def _excuses(episode: Episode, day: int, tanks: frozenset[int], quantity: Quantity) -> bool:
    inside = episode.start <= day <= episode.start + LASTS + SETTLES
    return inside and quantity == episode.quantity and not tanks.isdisjoint(episode.tanks)


def widths_with(years: Sequence[Year], false: Mapping[Quantity, int]) -> Widths:
    """The narrowest limits that make no more than so many false alarms on some years."""
    return {
        quantity: next(
            (width for width in TRIED[quantity] if _of_limits(years, {quantity: width}).false[quantity] <= most),
            TRIED[quantity][-1],
        )
        for quantity, most in ((quantity, false[quantity]) for quantity in QUANTITIES)
    }


def _of_limits(years: Sequence[Year], widths: Widths) -> Tally:
    tally = Tally()
    for year in years:
        count(tally, year, alarms_of_limits(year, widths))
    return tally


def lines(seeds: Sequence[int], ways: Sequence[str] = tuple(READ)) -> Iterator[str]:
    """The table, one line for each way of reading and fault."""
    yield "| read | fault | watch: days (found) | limits with as many false alarms | limits of 20 % and 2.5 °C |"
    yield "| --- | --- | --- | --- | --- |"
    for name in ways:
        watch, years = Tally(), []
        for seed in seeds:
            year = year_of(seed, READ[name])
            years.append(year)
            count(watch, year, alarms_of_watch(year))
        widths = widths_with(years, watch.false)
        tallies = (watch, _of_limits(years, widths), _of_limits(years, USUAL))
        for fault in watch.found:
            yield f"| {name} | {fault} | {' | '.join(_days(tally.found[fault]) for tally in tallies)} |"
        rates = " | ".join(f"{tally.rate:.3f}" for tally in tallies)
        yield f"| {name} | false alarms a tank and month | {rates} |"
        yield f"| {name} | limits | | {100 * widths['tds']:g} %, {widths['temperature']:g} °C | 20 %, 2.5 °C |"


def _days(found: list[int | None]) -> str:
    """The middle and the slowest tenth of the days; what was not found counts as found when it was mended."""
    days = sorted(LASTS if day is None else day for day in found)
    seen = sum(day is not None for day in found)
    return f"{median(days):g}, 9 in 10 by {days[int(0.9 * (len(days) - 1))]} ({seen} of {len(found)})"


def main() -> None:
    """Print the table."""
    seeds = int(sys.argv[1]) if len(sys.argv) > 1 else 6
    first = int(sys.argv[2]) if len(sys.argv) > 2 else 100
    ways = [name for name in READ if len(sys.argv) <= 3 or name.startswith(sys.argv[3])]
    for line in lines(range(first, first + seeds), ways):
        sys.stdout.write(f"{line}\n")
        sys.stdout.flush()


if __name__ == "__main__":
    main()
