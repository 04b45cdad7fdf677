"""The planning rules word for word as sentences over all servings, as slow as they read: for tiny problems only."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection
from datetime import date, timedelta
from itertools import combinations, pairwise

from schedules.planning.problem.types import Clock, Problem, Slot, TankProblem


def is_lawful(problem: Problem, slots: Collection[Slot]) -> bool:
    """Whether a plan keeps the four hard rules."""
    for name, tank in problem.tanks.items():
        own = [slot for slot in slots if slot.tank == name]
        open_days = all(slot.day in tank.feeds[slot.feed].open for slot in own)
        once = len(set(own)) == len(own)
        feeds = all(
            _apart([slot.day for slot in own if slot.feed == feed_id], feed.last, feed.min_gap)
            for feed_id, feed in tank.feeds.items()
        )
        clocks = all(
            _apart([slot.day for slot in own if slot.feed in clock.feeds], clock.last and clock.last.day, clock.min_gap)
            for clock in tank.clocks.values()
        )
        shares: dict[tuple[int, str], float] = defaultdict(float)
        for slot in own:
            shares[slot.day, tank.feeds[slot.feed].table] += tank.feeds[slot.feed].share
        if not (open_days and once and feeds and clocks and all(share < 1.000001 for share in shares.values())):
            return False
    return True


def _apart(days: list[int], last: int | None, gap: int) -> bool:
    every_two = all(abs(one - other) >= gap for one, other in combinations(days, 2))
    return every_two and (last is None or all(day - last >= gap for day in days))


def costs(problem: Problem, slots: Collection[Slot]) -> dict[str, float]:
    """The costs by name, weights applied."""
    found: dict[str, float] = defaultdict(float)
    for name, tank in problem.tanks.items():
        own = [slot for slot in slots if slot.tank == name]
        found["unaccompanied"] += 5 * sum(_is_alone(tank, slot, own) for slot in own)
        for clock in tank.clocks.values():
            served = sorted((slot.day, slot.feed) for slot in own if slot.feed in clock.feeds)
            if clock.max_gap is not None:
                late = [day for day in clock.wanted if day - _counted_from(clock, day, served) >= clock.max_gap]
                found["overdue"] += (clock.overdue or 0) * len(late)
            found["weekly"] += 10 * sum(_weeks(problem, clock, {day for day, _ in served}))
            found["repeat"] += 20 * _repeats(tank, clock, served)
    rounds: dict[tuple[int, str], float] = defaultdict(float)
    for slot in slots:
        feed = problem.tanks[slot.tank].feeds[slot.feed]
        rounds[slot.day, feed.round] += feed.minutes
    found["longest_round"] = 30 * max(rounds.values(), default=0)
    for day in range(min(problem.days, problem.posted_days)):
        planned = {slot for slot in slots if slot.day == day}
        posted = {slot for slot in problem.posted if slot.day == day}
        weight, name = (2, "churn") if day <= 6 else (0.5, "late_churn")
        found[name] += weight * (len(planned - posted) + len(posted - planned))
    return found


def _is_alone(tank: TankProblem, slot: Slot, own: list[Slot]) -> bool:
    fine = tank.feeds[slot.feed].kind in {"biofilm", "powder"}
    drawn = any(tank.feeds[other.feed].draws for other in own if other.day == slot.day)
    return fine and slot.day in tank.adults and not drawn


def _counted_from(clock: Clock, day: int, served: list[tuple[int, str]]) -> int:
    first = day
    while first - 1 in clock.wanted:
        first -= 1
    if first == 0 and clock.wanted_since is not None:
        first = clock.wanted_since
    ledger = [] if clock.last is None else [clock.last.day]
    return max([first - 1, *ledger, *(on for on, _ in served if on <= day)])


def _weeks(problem: Problem, clock: Clock, served: set[int]) -> list[float]:
    if clock.per_week is None:
        return []
    by_week: dict[tuple[int, int], list[int]] = defaultdict(list)
    dates: dict[int, date] = {day: problem.start + timedelta(days=day) for day in range(problem.days)}
    for day, on in dates.items():
        by_week[on.isocalendar()[:2]].append(day)
    distances = []
    for days in by_week.values():
        if not any(dates[day].strftime("%a") == "Sun" for day in days):
            continue
        wanted = [day for day in days if day in clock.wanted]
        count, number = len(wanted), sum(day in served for day in wanted)
        if 0 in days:
            count, number = count + clock.earlier_wanted, number + clock.earlier_days
        distances.append(abs(number - clock.per_week * count / 7))
    return distances


def _repeats(tank: TankProblem, clock: Clock, served: list[tuple[int, str]]) -> int:
    if not clock.rotate:
        return 0
    history = [*([] if clock.last is None else [(clock.last.day, clock.last.feed)]), *served]
    return sum(
        before == feed and any(day in tank.feeds[other].open for other in clock.feeds if other != feed)
        for (_, before), (day, feed) in pairwise(history)
    )
