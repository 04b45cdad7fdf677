"""A plot drawn by plotext as lines of text in the theme's colours. A pure function of the plot and the room it has.

plotext (through textual-plotext, which gives each plot a figure of its own) places the signs, axes and labels. Its
colours are numbers here that stand for colours of the theme, so that a change of theme needs no new drawing. It is
imported when the first plot is drawn: the dashboard starts without it.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import replace
from typing import Any, Final

from textual.content import Content

from schedules.formatting import clean
from tui.widgets.cells import cells
from tui.widgets.plots.axes import dates_on, day_number, numbers_on
from tui.widgets.plots.legend import BAR, legend
from tui.widgets.plots.values import DatedPlot, IntervalPlot, Level, Plot

LEAST_ROWS: Final = 5
AXIS_ROWS: Final = 2
"""Rows of the lower axis and its labels."""
LEAST_COLUMN: Final = 5
APART: Final = 4
"""Cells from one column's label to the next, so that plotext leaves none out."""
BESIDE: Final = 2
"""Cells between the points of one column."""
NEAR: Final = 0.15
"""Levels within this part of the highest number are always in view."""
FILL: Final = "\x00"
"""Takes a cell of plotext's where a wide character takes two; taken out again."""
_COLOURED: Final = re.compile(r"\x1b\[38;5;(\d+)m([^\x1b]*)|\x1b\[[\d;]*m|([^\x1b]+)")


def drawn(plot: Plot, width: int, height: int) -> Content:
    """A plot of so many cells and lines, its unit above it and its words below."""
    words = legend(plot, width)
    rows = max(LEAST_ROWS, height - len(words) - 1)
    canvas = _Canvas(width, rows)
    if isinstance(plot, DatedPlot):
        _draw_dated(canvas, plot)
    else:
        _draw_intervals(canvas, plot)
    return Content("\n").join([Content.styled(clean(plot.unit), "$quiet"), *canvas.lines(), *words])


def columns_that_fit(plot: IntervalPlot, width: int) -> int:
    """How many columns of an interval plot have room side by side with their labels."""
    widest = max((cells(_label(plot, number)) for number in range(len(plot.columns))), default=0)
    return max(1, (width - 6) // max(LEAST_COLUMN, widest + APART))


def part_of(plot: IntervalPlot, first: int, width: int) -> IntervalPlot:
    """As many columns as have room, from one on; where some are left out, the unit's line says which are shown."""
    most, columns = columns_that_fit(plot, width), len(plot.columns)
    if columns <= most:
        return plot
    shown = slice(first, first + most)
    unit = f"{plot.unit} · {first + 1} to {min(first + most, columns)} of {columns}"
    series = (replace(each, points=each.points[shown]) for each in plot.series)
    return replace(plot, unit=unit, columns=plot.columns[shown], series=tuple(series))


class _Canvas:
    """One figure of plotext's; colours by their names in the theme."""

    def __init__(self, width: int, height: int) -> None:
        from textual_plotext import Plot as Figure

        self._figure: Any = Figure()
        self._figure.theme("clear")
        self._figure.plotsize(width, height)
        self._figure._set_size(width, height)
        self._figure.xaxes(True, False)
        self._figure.yaxes(True, False)
        self._colours: list[str] = []
        self.width, self.rows = width, height - AXIS_ROWS

    def limits(self, across: tuple[float, float], up: tuple[float, float]) -> None:
        """From where to where the axes go."""
        self._figure.xlim(*across)
        self._figure.ylim(*up)

    def ticks(self, across: dict[float, str], up: dict[float, str]) -> None:
        """Texts at places of the axes."""
        self._figure.xticks(list(across), [_in_cells(text) for text in across.values()])
        self._figure.yticks(list(up), list(up.values()))

    def signs(self, sign: str, colour: str, points: Iterable[tuple[float, float]], *, joined: bool = False) -> None:
        """Put a sign at each of these places, or along the line from one to the next."""
        found = list(points)
        if found:
            draw = self._figure.plot if joined else self._figure.scatter
            draw([x for x, _ in found], [y for _, y in found], marker=sign, color=self._number(colour))

    def _number(self, colour: str) -> int:
        if colour not in self._colours:
            self._colours.append(colour)
        return self._colours.index(colour) + 1

    def lines(self) -> Iterator[Content]:
        """What was drawn."""
        for line in self._figure.build().split("\n")[: self.rows + AXIS_ROWS]:
            yield Content.assemble(*self._parts(line))

    def _parts(self, line: str) -> Iterator[tuple[str, str]]:
        for number, coloured, plain in _COLOURED.findall(line):
            if coloured or plain:
                text = (coloured or plain).replace(FILL, "")
                yield text, self._colours[int(number) - 1] if number else "$quiet"


def _draw_dated(canvas: _Canvas, plot: DatedPlot) -> None:
    first, last = day_number(plot.first), max(day_number(plot.last), day_number(plot.first) + 1)
    low, high = _span(plot)
    events = [each for each in plot.events if each.at]
    row = (high - low) / max(1, canvas.rows - 1 - len(events))
    foot = low - row * len(events)
    canvas.limits((first, last), (foot, high))
    canvas.ticks(dates_on(plot.first, plot.last, canvas.width), numbers_on(low, high, canvas.rows - len(events)))
    for level in plot.levels:
        for value in _ends(level):
            canvas.signs(level.sign, level.colour, _across(first, last, value, canvas.width))
    for number, event in enumerate(events):
        days = (day_number(at) for at in event.at if plot.first <= at <= plot.last)
        canvas.signs(event.sign, event.colour, ((day, foot + row * number) for day in days))
    for series in plot.series:
        points = [(day_number(at), value) for at, value in series.points if plot.first <= at <= plot.last]
        if series.between:
            canvas.signs(series.between, series.colour, points, joined=True)
        canvas.signs(series.sign, series.colour, points)


def _span(plot: DatedPlot) -> tuple[float, float]:
    """The lowest and the highest number, with a little air; a level far from the series is left to its word."""
    values = [value for series in plot.series for at, value in series.points if plot.first <= at <= plot.last]
    levels = [value for level in plot.levels for value in _ends(level)]
    low, high = min(values or levels, default=0.0), max(values or levels, default=1.0)
    reach = max(high - low, abs(high) * NEAR)
    near = [value for value in levels if low - reach <= value <= high + reach]
    low, high = min(low, *near, low), max(high, *near, high)
    air = (high - low) * 0.05 or max(abs(high) * 0.05, 0.1)
    return low - air, high + air


def _ends(level: Level) -> list[float]:
    return [value for value in (level.low, level.high) if value is not None]


def _across(first: float, last: float, value: float, width: int) -> Iterator[tuple[float, float]]:
    """Places close enough to fill a whole row."""
    return ((first + (last - first) * number / (2 * width), value) for number in range(2 * width + 1))


def _draw_intervals(canvas: _Canvas, plot: IntervalPlot) -> None:
    columns = len(plot.columns)
    canvas.limits((-0.5, columns - 0.5), (plot.low, plot.high))
    ticks = {float(number): _label(plot, number) for number in range(columns)}
    canvas.ticks(ticks, numbers_on(plot.low, plot.high, canvas.rows))
    beside = BESIDE * columns / max(1, canvas.width - 6)
    for number, series in enumerate(plot.series):
        shift = (number - (len(plot.series) - 1) / 2) * beside
        for column, point in enumerate(series.points):
            if point is not None:
                at = column + shift
                canvas.signs(BAR, series.colour, _up(at, point.low, point.high, plot, canvas.rows))
                canvas.signs(series.sign, series.colour, [(at, point.at)])


def _up(at: float, low: float, high: float, plot: IntervalPlot, rows: int) -> Iterator[tuple[float, float]]:
    """Places close enough to fill a column from low to high."""
    steps = max(1, round(2 * rows * (high - low) / (plot.high - plot.low)))
    return ((at, low + (high - low) * number / steps) for number in range(steps + 1))


def _label(plot: IntervalPlot, number: int) -> str:
    column = plot.columns[number]
    return f"{clean(column.label)} ({column.number})"


def _in_cells(text: str) -> str:
    """A text in which every character takes one cell of plotext's; what takes none is left out."""
    return "".join(letter + FILL * (cells(letter) - 1) for letter in clean(text) if cells(letter))
