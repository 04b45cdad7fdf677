"""The level of a quantity in one tank: learned from its first readings, then kept, so that later ones can be judged.

The scatter is the tank's own, drawn towards what is usual for the quantity while few readings are known.
"""

from __future__ import annotations

from collections import deque
from dataclasses import dataclass, field
from datetime import date
from math import sqrt

from schedules.water.watch.ewma import moved, start_part, variance_part
from schedules.water.watch.settings import ENOUGH, GUARD_DAYS, LEARNED, LEARNED_DAYS, PRIOR, WEIGHT, WIDTH, Scale


@dataclass(slots=True)
class Level:
    """A level with the moving average of what came after it was learned. All on the quantity's scale.

    `sum_of_squares` and `freedom` are what earlier levels of the same tank said of its scatter.
    """

    scale: Scale
    sum_of_squares: float = 0.0
    freedom: int = 0
    values: list[float] = field(default_factory=list)
    waiting: deque[tuple[date, float]] = field(default_factory=deque)
    first: date | None = None
    until: date | None = None
    count: int = 0
    average: float = 0.0
    mean: float = 0.0
    """The level, as learned so far."""
    _squares: float = 0.0
    """The sum of the squares of the distances from it."""

    @property
    def known(self) -> bool:
        """Whether enough was read to judge by it."""
        return len(self.values) >= ENOUGH

    @property
    def spread(self) -> float:
        """The scatter of one reading about the level."""
        own = self._squares + self.sum_of_squares
        freedom = max(len(self.values) - 1, 0) + self.freedom
        pooled = (PRIOR * self.scale.scatter**2 + own) / (PRIOR + freedom)
        return max(sqrt(pooled), self.scale.least)

    def is_learning(self, day: date) -> bool:
        """Whether a reading of a day still belongs to those that the level is learned from."""
        return self.first is None or len(self.values) < LEARNED or (day - self.first).days < LEARNED_DAYS

    def learn(self, day: date, value: float) -> None:
        """Take a reading into the level."""
        self.first = self.first or day
        self.until = day
        self.values.append(value)
        # Once a reading and not whenever asked for: they are asked for many times.
        self.mean = sum(self.values) / len(self.values)
        self._squares = sum([(each - self.mean) ** 2 for each in self.values])

    def departed(self, day: date, value: float) -> bool:
        """Take one more reading into the moving average; whether it has left the level, and so far that it matters.

        Readings that were judged join the level after some days: so it becomes better known, yet a drift does not hide
        in it.
        """
        while self.waiting and (day - self.waiting[0][0]).days >= GUARD_DAYS:
            self.learn(*self.waiting.popleft())
        self.waiting.append((day, value))
        self.count += 1
        self.average = moved(self.average if self.count > 1 else self.mean, value, WEIGHT)
        away = abs(self.average - self.mean)
        return away > WIDTH * self.spread * self._width() and away >= self.scale.matters

    def again(self) -> Level:
        """A new level to learn, which knows the scatter of the old one."""
        return Level(self.scale, self._squares + self.sum_of_squares, max(len(self.values) - 1, 0) + self.freedom)

    def _width(self) -> float:
        """The standard deviation of the average's distance from the mean that is itself only known from readings."""
        of_mean = start_part(WEIGHT, self.count) ** 2 / len(self.values)
        return sqrt(variance_part(WEIGHT, self.count) + of_mean)
