"""What a plan comes to: the longest round, how short it could be, and days that must be overdue and why."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import timedelta

from schedules.plan.cost import overdue_by_tank, round_minutes
from schedules.plan.types import Plan
from schedules.problem.types import Problem
from schedules.rules import WEIGHTS

_RULE_WORDS = {
    "shares": "the shares of a day",
    "group gaps": "the days between feeds of one group",
    "closed days": "days on which nothing may be given",
    "shortest gaps": "the shortest gaps",
}


@dataclass(frozen=True, slots=True)
class TooMuch:
    """A tank whose rules cannot all be met: overdue days planned, how many are proven needed, by feed, and why."""

    tank: str
    overdue: int
    needed: int
    feeds: tuple[tuple[str, int], ...]
    rules: tuple[str, ...]

    def text(self) -> str:
        """One sentence: what fights what in this tank."""
        listed = ", ".join(f"{feed} {count}" for feed, count in self.feeds)
        days = "day" if self.overdue == 1 else "days"
        head = f"{self.tank}: {self.overdue} {days} overdue ({listed})"
        if not self.rules:
            return f"{head}: the longest gaps had run out before the plan's first days"
        against = " and ".join(_RULE_WORDS[rule] for rule in self.rules)
        sure = "cannot all be met" if self.needed else "could not all be met"
        return f"{head}: the longest gaps and {against} {sure}"


def longest(problem: Problem, plan: Plan) -> tuple[float, int, str]:
    """The minutes of the longest round, its day and its name; zero minutes where nothing is given."""
    minutes = round_minutes(problem, plan.slots)
    if not minutes:
        return 0.0, 0, ""
    day, name = min(minutes, key=lambda key: (-minutes[key], key))
    return minutes[day, name], day, name


def shortest_possible(plan: Plan) -> float | None:
    """No plan that does as well in everything else has a longest round shorter than this many minutes."""
    if plan.bound is None:
        return None
    others = plan.cost.total - plan.cost.longest_round
    return max(0.0, min(plan.cost.longest_round, plan.bound - others) / WEIGHTS.longest_round)


def too_much(problem: Problem, plan: Plan) -> tuple[TooMuch, ...]:
    """The tanks in which rules fight, worst first."""
    from schedules.plan.fewest import fewest_overdue
    from schedules.plan.overdue import rules_in_the_way

    late = overdue_by_tank(problem, plan.slots)
    if not late:
        return ()
    fewest = fewest_overdue(problem, list(late))
    rules = rules_in_the_way(problem, late)
    found = [
        TooMuch(tank, sum(feeds.values()), fewest[tank].proven, tuple(sorted(feeds.items())), rules[tank])
        for tank, feeds in late.items()
    ]
    return tuple(sorted(found, key=lambda one: (-one.overdue, one.tank)))


def summary(problem: Problem, plan: Plan) -> str:
    """One line: the longest round of the plan, the shortest it could be, days that are overdue."""
    minutes, day, _ = longest(problem, plan)
    date = problem.start + timedelta(days=day)
    text = f"longest round {minutes:.1f} min on {date}"
    least = shortest_possible(plan)
    if least is not None:
        text += f", at least {least:.1f} min with all else as good"
    late = overdue_by_tank(problem, plan.slots)
    if not late:
        return f"{text}; nothing overdue"
    count = sum(sum(feeds.values()) for feeds in late.values())
    first = too_much(problem, plan)[0]
    days, tanks = ("day" if count == 1 else "days"), ("tank" if len(late) == 1 else "tanks")
    return f"{text}; {count} {days} overdue in {len(late)} {tanks}, most in {first.text()}"
