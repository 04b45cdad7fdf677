"""The words below a plot: each sign with what it stands for."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from textual.content import Content

from tui.widgets.cells import cells, cut
from tui.widgets.plots.values import DatedPlot, Named, Plot

GAP: Final = 3
BAR: Final = "│"
"""The sign of an interval."""


def legend(plot: Plot, width: int) -> list[Content]:
    """As many lines as the words take, `width` cells wide; no piece is broken over two lines."""
    lines: list[list[tuple[str, str]]] = [[]]
    used = 0
    for sign, name, colour in _pieces(plot):
        text = cut(name, max(8, width - cells(sign) - 1))
        across = cells(sign) + 1 + cells(text)
        if used and used + GAP + across > width:
            lines.append([])
            used = 0
        gap = GAP if used else 0
        lines[-1] += [(" " * gap, ""), (sign, colour), (f" {text}", "$quiet")]
        used += gap + across
    return [Content.assemble(*line) for line in lines]


def _pieces(plot: Plot) -> Iterator[tuple[str, str, str]]:
    """Sign, name and colour; what has the name of another is named once."""
    named: list[Named] = [*plot.series]
    if isinstance(plot, DatedPlot):
        named.reverse()  # what is drawn last lies on top and is named first
        named += [*plot.levels, *(each for each in plot.events if each.at)]
    seen = set()
    for each in named:
        if each.name not in seen:
            seen.add(each.name)
            yield each.sign, each.name, each.colour
    if not isinstance(plot, DatedPlot):
        yield BAR, "the interval it lies in", "$quiet"
        yield "(1)", f"{plot.behind} behind it", "$quiet"
