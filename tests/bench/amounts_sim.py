"""Amounts by the program, beside a fixed spoon and the label: `python -m tests.bench.amounts_sim [SEED]`.

All three feed the same invented tanks by the same plan, with the same forgotten rounds and double feedings. What is not
eaten on its day is lost and rots; nothing is carried over, no hunger is made up for.
"""

from __future__ import annotations

import sys
from collections.abc import Callable
from dataclasses import dataclass, field, replace
from datetime import UTC, datetime, timedelta
from random import Random
from statistics import mean, median

from schedules.amounts import serving, share_of
from schedules.amounts.load.load import AMMONIA_IF_EATEN, AMMONIA_IF_LEFT
from schedules.history import LOOK_BACK_DAYS, History
from schedules.ledger.entries import Entry, Leftovers, Observed, PostedServing, Posting, Served, What
from schedules.room import Feed
from tests.bench.amounts_world import (
    FEEDS,
    ROOM,
    SHRIMPLET_DAYS,
    START,
    WEEK,
    HiddenTank,
    Life,
    Setting,
    full_length,
    make_tanks,
)

HUNGRY = 0.6
LOAD_DAYS = 3
BY_ID = {feed.id: feed for feed in FEEDS}


@dataclass
class Run:
    """What one way of feeding did in one tank, day by day."""

    found: list[float] = field(default_factory=list)
    """What the shrimplets found of what had to be fed, 0 to 1, on days with shrimplets."""
    length: list[float] = field(default_factory=list)
    """Length of each brood at the end of its shrimplet days ÷ what it would be had it always found enough."""
    left: list[bool] = field(default_factory=list)
    hungry: list[bool] = field(default_factory=list)
    ammonia: list[float] = field(default_factory=list)
    fine_fed: float = 0.0
    fine_eaten: float = 0.0

    @property
    def peak(self) -> float:
        """Ammonia nitrogen of the worst days together, mg/L: what was eaten and what was left, with no filter."""
        return max(sum(self.ammonia[day : day + LOAD_DAYS]) for day in range(len(self.ammonia)))


Amounts = Callable[[HiddenTank, "Book", Feed, float, int], float]


@dataclass
class Book:
    """A tank's ledger as the simulation writes it."""

    entries: list[Entry] = field(default_factory=list)
    postings: list[Posting] = field(default_factory=list)

    def write(self, what: What, day: int) -> None:
        on = START + timedelta(days=day)
        number = len(self.entries) + 1
        self.entries.append(
            Entry(number, number, on, datetime(on.year, on.month, on.day, 7, tzinfo=UTC), "keeper", what)
        )

    def history(self, day: int) -> History:
        today = START + timedelta(days=day)
        first = today - timedelta(days=LOOK_BACK_DAYS)
        ever = {}
        for entry in reversed(self.entries):
            if isinstance(entry.what, Served):
                ever[entry.what.tank, entry.what.feed] = entry.day
        recent = tuple(entry for entry in self.entries if entry.day >= first)
        postings = tuple(each for each in self.postings if each.start >= first)
        return History(first, today, recent, postings, {}, ever)


def by_the_program(hidden: HiddenTank, book: Book, feed: Feed, part: float, day: int) -> float:
    """The amount the program works out from room file and ledger."""
    today = START + timedelta(days=day)
    return serving(hidden.tank, feed, part, today, room=ROOM, history=book.history(day)).mg


def by_the_label(hidden: HiddenTank, _book: Book, feed: Feed, part: float, _day: int) -> float:
    """The label's amount for the volume."""
    return feed.label_mg_per_litre * hidden.tank.litres * part


def by_the_spoon(fine: float, ground: float) -> Amounts:
    """The same amounts for every tank on every day."""
    return lambda _hidden, _book, feed, part, _day: (fine if feed.fine else ground) * part


def run_tank(hidden: HiddenTank, amounts: Amounts, setting: Setting, seed: int) -> Run:
    """One tank fed one way. Forgotten rounds, double feedings and looks are the same for every way of feeding."""
    chance = Random(f"keeper {seed} {hidden.tank.id}")
    life, book, run = Life(hidden), Book(), Run()
    for day in range(setting.days):
        forgets, doubles, looks = (chance.random() for _ in range(3))
        plan = {} if forgets < setting.forgets else WEEK[(START + timedelta(days=day)).weekday()]
        given = {feed: amounts(hidden, book, BY_ID[feed], part, day) for feed, part in plan.items()}
        times = 2 if doubles < setting.doubles else 1
        eaten = _a_day(life, run, given, times, setting, day)
        _write(book, hidden, plan, given, times, eaten if looks < setting.looks else None, day)
    return run


def _a_day(life: Life, run: Run, given: dict[str, float], times: int, setting: Setting, day: int) -> float:
    """What becomes of a day's feed; the part of the solid feed that was eaten."""
    want_fine, want_ground = life.want(day)
    fine = sum(mg for feed, mg in given.items() if BY_ID[feed].fine) * times
    ground = sum(mg for feed, mg in given.items() if not BY_ID[feed].fine) * times
    eaten_fine, eaten_ground = min(want_fine, setting.found * fine), min(want_ground, ground)
    if want_fine > 0:
        run.found.append(eaten_fine / want_fine)
        run.fine_fed, run.fine_eaten = run.fine_fed + fine, run.fine_eaten + eaten_fine
    if any(feed in given for feed in ("wafer", "grub")):
        run.left.append(ground - eaten_ground > 0.1 * ground)
        run.hungry.append(eaten_ground < HUNGRY * want_ground)
    nitrogen = 0.0
    for feed, mg in given.items():
        ate = (eaten_fine / fine if fine else 0.0) if BY_ID[feed].fine else (eaten_ground / ground if ground else 0.0)
        nitrogen += BY_ID[feed].protein * mg * times * (ate * AMMONIA_IF_EATEN + (1 - ate) * AMMONIA_IF_LEFT)
    run.ammonia.append(nitrogen / life.hidden.tank.litres)
    life.grow(day, eaten_fine / want_fine if want_fine > 0 else 1.0)
    for brood, mm in zip(life.hidden.broods, life.mm, strict=True):
        if day - brood.hatched == SHRIMPLET_DAYS - 1:
            run.length.append(mm / full_length(brood, SHRIMPLET_DAYS))
    return eaten_ground / ground if ground else 1.0


def _write(
    book: Book,
    hidden: HiddenTank,
    plan: dict[str, float],
    given: dict[str, float],
    times: int,
    eaten: float | None,
    day: int,
) -> None:
    today, tank = START + timedelta(days=day), hidden.tank
    posted = []
    for feed, part in plan.items():
        mg, stock = given[feed], BY_ID[feed]
        took = min(part, share_of(tank, stock, mg, today, ROOM))
        name, count = stock.measure.name, mg / stock.measure.mg
        posted.append(PostedServing(tank.id, feed, "morning", took, count, name, mg, stock.rules.method))
        for time in range(times):
            book.write(Served(tank.id, feed, "morning", count, name, mg, took, time == 0), day)
        if eaten is not None and not stock.fine:
            book.write(Observed(tank.id, feed, seen(eaten)), day)
    book.postings.append(Posting(today, (tuple(posted),)))


def seen(eaten: float) -> Leftovers:
    """What a keeper who looks reports, by the part of the solid feed that was eaten."""
    return "most" if eaten < 0.5 else "some" if eaten < 0.9 else "none"


def simulate(setting: Setting, seed: int) -> dict[str, list[Run]]:
    """Every tank fed every way; the spoons are the best single ones: what the tanks truly want half way through."""
    tanks = make_tanks(setting, seed)
    wants = [_true_want(hidden, setting.days // 2) for hidden in tanks]
    spoon = by_the_spoon(mean(fine for fine, _ in wants) / setting.found, mean(ground for _, ground in wants))
    ways: dict[str, Amounts] = {"by the program": by_the_program, "fixed spoons": spoon, "label's amount": by_the_label}
    return {name: [run_tank(each, amounts, setting, seed) for each in tanks] for name, amounts in ways.items()}


def _true_want(hidden: HiddenTank, day: int) -> tuple[float, float]:
    """What a tank would want on a day had its young always found enough."""
    life = Life(hidden)
    for each in range(day):
        life.grow(each, 1.0)
    return life.want(day)


COLUMNS = (
    "way of feeding",
    "of their fine feed the young found",
    "length at 60 days ÷ well fed",
    "worst tenth",
    "fine feed given ÷ eaten",
    "solid: days with leftovers",
    "solid: hungry days",
    "worst 3 days' ammonia, median tank, mg/L",
    "worst tank, mg/L",
)
HEAD = f"| {' | '.join(COLUMNS)} |\n{'|---' * len(COLUMNS)}|"


def row(name: str, runs: list[Run]) -> str:
    """One line of the table."""
    lengths = sorted(each for run in runs for each in run.length)
    cells = (
        name,
        f"{mean(each for run in runs for each in run.found):.0%}",
        f"{mean(lengths):.0%}",
        f"{mean(lengths[: max(1, len(lengths) // 10)]):.0%}",
        f"{sum(run.fine_fed for run in runs) / sum(run.fine_eaten for run in runs):.1f}",
        f"{mean(each for run in runs for each in run.left):.0%}",
        f"{mean(each for run in runs for each in run.hungry):.0%}",
        f"{median(run.peak for run in runs):.2f}",
        f"{max(run.peak for run in runs):.2f}",
    )
    return f"| {' | '.join(cells)} |"


def main(seed: int = 1) -> None:
    """Print the table, then what becomes of the program's way where the assumptions are off."""
    usual = Setting()
    sys.stdout.write(f"{usual.tanks} tanks, {usual.days} days, seed {seed}\n\n{HEAD}\n")
    for name, runs in simulate(usual, seed).items():
        sys.stdout.write(row(name, runs) + "\n")
    sys.stdout.write(f"\nBy the program, where the assumptions are off:\n\n{HEAD}\n")
    fewer = replace(usual, tanks=30)
    others = {f"true need {part} of the program's": replace(fewer, need=part) for part in (0.5, 1.5)}
    others |= {f"{found:.0%} of fine feed is found": replace(fewer, found=found) for found in (0.4,)}
    others |= {f"{looks:.0%} of servings looked back at": replace(fewer, looks=looks) for looks in (0.0,)}
    for name, setting in others.items():
        tanks = make_tanks(setting, seed)
        sys.stdout.write(row(name, [run_tank(each, by_the_program, setting, seed) for each in tanks]) + "\n")


if __name__ == "__main__":
    main(*(int(each) for each in sys.argv[1:2]))
