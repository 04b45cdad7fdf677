"""What a plan brings to the animals: `python -m tests.bench.delivery`.

First whole rooms as their plan is posted, with amounts as measured out (`delivery_posted`). Then plans from their JSON
alone: given files (`rackround-plan/2`), otherwise invented problems with one to five products of each kind; there mass
is counted in rations of a day, before rounding to the keeper's measure. A new feed's caution is left out of both.
"""

from __future__ import annotations

import argparse
import json
import statistics
import sys
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Any, NamedTuple

from tests.bench.plan_defaults import TABLE_CLOCKS
from tests.bench.plan_document import document_of_plan
from tests.bench.plan_rooms import Products, invented_room

Document = dict[str, Any]


def main() -> None:
    """Print the tables."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("plans", nargs="*", type=Path, help="files of plans")
    parser.add_argument("--sizes", default="12,48")
    parser.add_argument("--seeds", type=int, default=2)
    parser.add_argument("--only-rooms", action="store_true", help="leave the invented problems out")
    asked = parser.parse_args()
    if not asked.plans:
        _print_rooms(asked.seeds)
    if asked.only_rooms:
        return
    named = ((path.stem, json.loads(path.read_text(encoding="utf-8"))) for path in asked.plans)
    for name, read in named if asked.plans else _invented(map(int, asked.sizes.split(",")), asked.seeds):
        sys.stdout.write(report(name, read))
        sys.stdout.flush()


def _print_rooms(seeds: int) -> None:
    from tests.bench import delivery_posted
    from tests.bench.delivery_rooms import START, rooms

    sys.stdout.write(delivery_posted.HEAD + "\n")
    for name, room in rooms(seeds):
        sys.stdout.write(delivery_posted.report(name, delivery_posted.posted(room, START)))
        sys.stdout.flush()


def _invented(sizes: Iterable[int], seeds: int) -> Iterator[tuple[str, Document]]:
    from schedules.planning.search import plan

    for size in sizes:
        for seed in range(seeds):
            for tight in (False, True):
                room = invented_room(size, seed, tight, products=Products(1, 5))
                name = f"{size} tanks, {'tight' if tight else 'ordinary'}, seed {seed}"
                yield name, document_of_plan(room, plan(room))


class Week(NamedTuple):
    """What a table got in one whole calendar week of a plan, in rations of a day."""

    mass: float
    served: int
    """Days on which anything was served at the table."""
    answered: int
    """Wanted days on which the table's clock was answered."""
    target: float
    """Days the table's clock asks for."""


@dataclass(frozen=True, slots=True)
class Table:
    """What one table of one tank got over a plan, in rations of a day."""

    tank: str
    table: str
    mass: float
    served: int
    target: float
    weeks: tuple[Week, ...]

    @property
    def of_served(self) -> float | None:
        """Mass by the ration of the days served."""
        return self.mass / self.served if self.served else None

    @property
    def of_clock(self) -> float | None:
        """Mass by the ration of the days the clock asks for."""
        return self.mass / self.target if self.target else None


def tables(read: Document) -> list[Table]:
    """What each table of each tank got, where its animals are ever wanted fed."""
    found = []
    for name, tank in read["problem"]["tanks"].items():
        served = [serving for serving in read["servings"] if serving["tank"] == name]
        for table, clocks in TABLE_CLOCKS.items():
            own = [tank["clocks"][clock] for clock in clocks if clock in tank["clocks"]]
            if any(clock["wanted"] for clock in own):
                here = [serving for serving in served if tank["feeds"][serving["feed"]]["table"] == table]
                found.append(_table(read, name, table, own, here))
    return found


def _table(read: Document, name: str, table: str, clocks: list[Document], here: list[Document]) -> Table:
    weekday = date.fromisoformat(read["start"]).weekday()

    def of_days(days: Iterable[int]) -> Week:
        on = set(days)
        return Week(
            sum(serving["part"] for serving in here if serving["day"] in on),
            len(on & {serving["day"] for serving in here if serving["part"] > 0}),
            sum(len(on & answered) for answered in answers),
            sum(clock["per_week"] * len(on & set(clock["wanted"])) / 7 for clock in clocks if clock["per_week"]),
        )

    answers = [
        {serving["day"] for serving in here if serving["feed"] in clock["feeds"]} & set(clock["wanted"])
        for clock in clocks
    ]
    mondays = range((7 - weekday) % 7, read["days"] - 6, 7)
    whole = of_days(range(read["days"]))
    weeks = tuple(of_days(range(monday, monday + 7)) for monday in mondays)
    return Table(name, table, whole.mass, whole.served, whole.target, weeks)


@dataclass(frozen=True, slots=True)
class Lack:
    """What young and grown animals of a room went without."""

    fine_days: int
    """Tank-days on which fine feed was wanted."""
    longest_without: int
    """Most days on end without fine feed where it was wanted."""
    powder_days: int
    """Tank-days with powder or biofilm and adults."""
    undrawn: int
    """Of these, days without a feed that draws."""
    wanted_days: int
    """Tank-days on which any table was wanted served."""
    empty: int
    """Of these, days on which nothing was served."""


def lack(read: Document) -> Lack:
    """What a room's animals went without."""
    fine_days = longest = powder_days = undrawn = wanted_days = empty = 0
    for name, tank in read["problem"]["tanks"].items():
        served: dict[int, list[Document]] = {}
        for serving in read["servings"]:
            if serving["tank"] == name:
                served.setdefault(serving["day"], []).append(tank["feeds"][serving["feed"]])
        fine = {day for day, feeds in served.items() if any(feed["table"] == "fine" for feed in feeds)}
        wanted = _wanted(tank, TABLE_CLOCKS["fine"])
        fine_days += len(wanted)
        longest = max(longest, _longest_run(wanted - fine))
        powder = {day for day in set(tank["adults"]) & set(served) if any(_is_powder(feed) for feed in served[day])}
        powder_days += len(powder)
        undrawn += sum(not any(feed["draws"] for feed in served[day]) for day in powder)
        fed = _wanted(tank, [clock for clocks in TABLE_CLOCKS.values() for clock in clocks])
        wanted_days += len(fed)
        empty += len(fed - set(served))
    return Lack(fine_days, longest, powder_days, undrawn, wanted_days, empty)


def _is_powder(feed: Document) -> bool:
    return feed["kind"] in ("biofilm", "powder")


def _wanted(tank: Document, clocks: Iterable[str]) -> set[int]:
    return {day for clock in clocks if clock in tank["clocks"] for day in tank["clocks"][clock]["wanted"]}


def _longest_run(days: set[int]) -> int:
    """The most days on end."""
    longest = run = 0
    for day in range(min(days, default=0), max(days, default=-1) + 1):
        run = run + 1 if day in days else 0
        longest = max(longest, run)
    return longest


def rounds(read: Document) -> list[float]:
    """The minutes of each day's rounds, the days without any included."""
    minutes = [0.0] * read["days"]
    for serving in read["servings"]:
        minutes[serving["day"]] += read["problem"]["tanks"][serving["tank"]]["feeds"][serving["feed"]]["minutes"]
    return minutes


def report(name: str, read: Document) -> str:
    """The measures of one plan as text."""
    found = tables(read)
    lines = [f"\n## {name}\n", _HEAD]
    for table in TABLE_CLOCKS:
        here = [one for one in found if one.table == table]
        if here:
            of_clock = [of for one in here if (of := one.of_clock) is not None]
            of_served = [of for one in here if (of := one.of_served) is not None]
            weeks = [week for one in here for week in one.weeks]
            off = sum(not 0.85 * week.target <= week.answered <= 1.15 * week.target for week in weeks)
            lines.append(
                f"| {table} | {len(here)} | {_spread(of_clock)} | {_spread(of_served)} | {off} of {len(weeks)} |"
            )
    missing, minutes = lack(read), rounds(read)
    lines += [
        f"\nfine feed: wanted on {missing.fine_days} tank-days, at most {missing.longest_without} days on end without",
        f"powder with adults: {missing.powder_days} tank-days, {missing.undrawn} with nothing that draws the adults",
        f"empty: {missing.empty} of {missing.wanted_days} tank-days",
        f"rounds: the longest {max(minutes):.1f} min, the median {statistics.median(minutes):.1f} min",
    ]
    return "\n".join(lines) + "\n"


_HEAD = (
    "| table | tanks | mass ÷ (ration × clock days): median, worst | mass ÷ (ration × days served): median, worst "
    "| weeks answered under 0.85 or over 1.15 of the clock |\n|---|---|---|---|---|"
)


def _spread(values: list[float]) -> str:
    return f"{statistics.median(values):.2f}, {min(values):.2f}" if values else "–"


def by_table(found: Iterable[Table]) -> Mapping[str, list[Table]]:
    """The tables of all tanks by name."""
    groups: dict[str, list[Table]] = {}
    for one in found:
        groups.setdefault(one.table, []).append(one)
    return groups


if __name__ == "__main__":
    main()
