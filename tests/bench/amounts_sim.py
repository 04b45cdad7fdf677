"""Amounts that follow the ledger, beside a fixed spoon and the label: `python -m tests.bench.amounts_sim [SEED]`.

All three feed the same invented tanks once a day, with the same forgotten rounds and the same double feedings. What is
not eaten on its day is found and taken out, or rots; nothing is carried over, no hunger is made up for.
"""

from __future__ import annotations

import sys
from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import UTC, datetime, timedelta
from random import Random
from statistics import mean, median

from schedules.amounts.load.ammonia import AMMONIA_IF_EATEN, AMMONIA_IF_LEFT
from schedules.amounts.ration import daily_ration, serving_amount, share_of
from schedules.history import LOOK_BACK_DAYS, History
from schedules.ledger.entries import Entry, Leftovers, Observed, Served
from tests.bench.amounts_world import CRUMB, START, HiddenTank, Setting, make_tanks

HUNGRY = 0.6
"""A day on which a tank eats less than this part of its appetite counts as hungry, a forgotten round included."""
NEAR = 0.15
SERVINGS = 10


@dataclass
class Run:
    """What one way of feeding did in one tank, day by day, mg; of each serving its amount, the appetite, the ration."""

    given: list[float]
    eaten: list[float]
    appetite: list[float]
    servings: list[tuple[float, float, float]]
    litres: float

    @property
    def leftover_days(self) -> float:
        """The part of days on which more than a tenth was left."""
        return mean(fed > 0 and fed - ate > 0.1 * fed for fed, ate in zip(self.given, self.eaten, strict=True))

    @property
    def hungry_days(self) -> float:
        """The part of days on which less than `HUNGRY` of the appetite was eaten."""
        return mean(ate < HUNGRY * want for ate, want in zip(self.eaten, self.appetite, strict=True))

    @property
    def peak_load(self) -> float:
        """Ammonia nitrogen of the worst day, mg/L: what was eaten and what was left, with no filter."""
        return max(
            CRUMB.protein * (ate * AMMONIA_IF_EATEN + (fed - ate) * AMMONIA_IF_LEFT) / self.litres
            for fed, ate in zip(self.given, self.eaten, strict=True)
        )

    @property
    def near(self) -> bool:
        """Whether the servings after the first ten came within `NEAR` of the appetite, ten of them on average."""
        return abs(mean(given / want for given, want, _ in self._judged) - 1) <= NEAR

    @property
    def covered(self) -> bool:
        """Whether the ration, as the room file has it, was enough for the appetite in that time."""
        return mean(want / ration for _, want, ration in self._judged) <= 1

    @property
    def _judged(self) -> list[tuple[float, float, float]]:
        return self.servings[SERVINGS : 2 * SERVINGS]


Amounts = Callable[[HiddenTank, list[Entry], int], float]


def by_the_ledger(hidden: HiddenTank, entries: list[Entry], day: int) -> float:
    """The amount the program works out from room file and ledger."""
    today = START + timedelta(days=day)
    first = today - timedelta(days=LOOK_BACK_DAYS)
    key = (hidden.tank.id, CRUMB.id)
    given = [entry.day for entry in entries if isinstance(entry.what, Served)]
    recent = tuple(entry for entry in entries if entry.day >= first)
    history = History(first, today, recent, (), {}, {key: given[0]} if given else {})
    return serving_amount(hidden.tank, CRUMB, CRUMB.rules, today, history=history).mg


def by_the_label(hidden: HiddenTank, _entries: list[Entry], _day: int) -> float:
    """The label's amount for the volume."""
    return CRUMB.label_mg_per_litre * hidden.tank.litres


def by_the_spoon(mg: float) -> Amounts:
    """The same amount for every tank on every day."""
    return lambda _hidden, _entries, _day: mg


def run_tank(hidden: HiddenTank, amounts: Amounts, setting: Setting, seed: int) -> Run:
    """One tank fed one way. Forgotten rounds, double feedings and looks are the same for every way of feeding."""
    chance = Random(f"keeper {seed} {hidden.tank.id}")
    made = Run([], [], [], [], hidden.tank.litres)
    entries: list[Entry] = []
    for day in range(setting.days):
        forgets, doubles, looks = (chance.random() for _ in range(3))
        want = hidden.appetite[day]
        once = 0.0 if forgets < setting.forgets else amounts(hidden, entries, day)
        times = 2 if once > 0 and doubles < setting.doubles else 1
        eaten = min(want, once * times)
        made.given.append(once * times)
        made.eaten.append(eaten)
        made.appetite.append(want)
        if once > 0:
            ration = daily_ration(hidden.tank, CRUMB, START + timedelta(days=day)).mg
            made.servings.append((once, want, ration))
            report = seen(once * times, eaten, setting) if looks < setting.looks else None
            _write(entries, hidden, day, once, times, report)
    return made


def seen(given: float, eaten: float, setting: Setting) -> Leftovers:
    """What a keeper who looks reports."""
    left = (given - eaten) / given
    return "most" if left > 0.5 else "some" if left > setting.seen_from else "none"


def _write(entries: list[Entry], hidden: HiddenTank, day: int, mg: float, times: int, report: Leftovers | None) -> None:
    today = START + timedelta(days=day)
    at = datetime(today.year, today.month, today.day, 7, tzinfo=UTC)
    share = share_of(hidden.tank, CRUMB, mg, today)
    for time in range(times):
        number = len(entries) + 1
        extra = "again" if time else None
        served = Served(hidden.tank.id, CRUMB.id, "morning", mg / 4, "crumb", mg, share, time == 0, extra)
        entries.append(Entry(number, number, today, at, "keeper", served))
    if report is not None:
        number = len(entries) + 1
        entries.append(Entry(number, number, today, at, "keeper", Observed(hidden.tank.id, CRUMB.id, report)))


def ways(tanks: list[HiddenTank]) -> dict[str, Amounts]:
    """The ways of feeding; the spoon is the best single one, the mean appetite of the first day."""
    return {
        "by the ledger": by_the_ledger,
        "fixed spoon": by_the_spoon(mean(hidden.appetite[0] for hidden in tanks)),
        "label's amount": by_the_label,
    }


def simulate(setting: Setting, seed: int) -> dict[str, list[Run]]:
    """Every tank fed every way."""
    tanks = make_tanks(setting, seed)
    return {
        name: [run_tank(hidden, amounts, setting, seed) for hidden in tanks] for name, amounts in ways(tanks).items()
    }


def row(name: str, runs: list[Run]) -> str:
    """One line of the table."""
    fed, eaten = sum(sum(run.given) for run in runs), sum(sum(run.eaten) for run in runs)
    covered = [run for run in runs if run.covered]
    return (
        f"| {name} | {fed / eaten:.2f} | {mean(run.leftover_days for run in runs):.1%} "
        f"| {mean(run.hungry_days for run in runs):.1%} | {median(run.peak_load for run in runs):.2f} "
        f"| {max(run.peak_load for run in runs):.2f} | {mean(run.near for run in runs):.0%} "
        f"| {mean(run.near for run in covered):.0%} of {len(covered)} |"
    )


COLUMNS = (
    "way of feeding",
    "fed ÷ eaten",
    "days with leftovers",
    "hungry days",
    "worst day's ammonia, median tank, mg/L",
    "worst tank, mg/L",
    "within 15 % of the appetite after ten servings",
    "of tanks whose ration covers it",
)
HEAD = f"| {' | '.join(COLUMNS)} |\n{'|---' * len(COLUMNS)}|"


def main(seed: int = 1) -> None:
    """Print the table, then what becomes of it where the assumptions are off."""
    usual = Setting()
    sys.stdout.write(f"{usual.tanks} tanks, {usual.days} days, seed {seed}\n\n{HEAD}\n")
    for name, runs in simulate(usual, seed).items():
        sys.stdout.write(row(name, runs) + "\n")
    sys.stdout.write(f"\nBy the ledger, where the assumptions are off:\n\n{HEAD}\n")
    others = {f"true appetite {part} of the ration": replace(usual, appetite=part) for part in (0.5, 1.0, 1.25)}
    others |= {f"{looks:.0%} of servings looked back at": replace(usual, looks=looks) for looks in (0.4, 0.0)}
    for name, setting in others.items():
        sys.stdout.write(row(name, simulate(setting, seed)["by the ledger"]) + "\n")


if __name__ == "__main__":
    main(*(int(each) for each in sys.argv[1:2]))
