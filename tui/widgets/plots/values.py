"""What a plot shows, as plain values. Every series has a sign of its own, so that it can be read without colour.

Colours are names of the theme, such as `$accent`. Names are plain text and may hold the keeper's words.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime


@dataclass(frozen=True, slots=True)
class Series:
    """Numbers with their times, oldest first; with `between`, a sign for the line from one to the next."""

    name: str
    sign: str
    colour: str
    points: tuple[tuple[datetime, float], ...]
    between: str = ""


@dataclass(frozen=True, slots=True)
class Level:
    """A target or a limit: lines across the plot where a range begins and ends; None where it is open."""

    name: str
    sign: str
    colour: str
    low: float | None
    high: float | None


@dataclass(frozen=True, slots=True)
class Events:
    """Times at which something was done: a row of signs at the foot of the plot."""

    name: str
    sign: str
    colour: str
    at: tuple[datetime, ...]


@dataclass(frozen=True, slots=True)
class DatedPlot:
    """Series over the time from `first` to `last`, later ones over earlier ones; `unit` heads the numbers."""

    first: datetime
    last: datetime
    unit: str
    series: tuple[Series, ...]
    levels: tuple[Level, ...] = ()
    events: tuple[Events, ...] = ()


@dataclass(frozen=True, slots=True)
class Interval:
    """A number, and the interval it lies in."""

    low: float
    at: float
    high: float


@dataclass(frozen=True, slots=True)
class Column:
    """A place on the foot of an interval plot: what it is, and how many lie behind it."""

    label: str
    number: int


@dataclass(frozen=True, slots=True)
class Points:
    """A point with its interval at each column, None where nothing is known."""

    name: str
    sign: str
    colour: str
    points: tuple[Interval | None, ...]


@dataclass(frozen=True, slots=True)
class IntervalPlot:
    """Points side by side from `low` to `high`, as many in every series as there are columns.

    `behind` says what the number in brackets after a column's label counts.
    """

    unit: str
    behind: str
    low: float
    high: float
    columns: tuple[Column, ...]
    series: tuple[Points, ...]


Plot = DatedPlot | IntervalPlot
Named = Series | Level | Events | Points
