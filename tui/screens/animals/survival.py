"""What became of each hatch, side by side: a table with intervals as bars or a plot, and the one sentence about it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from functools import partial
from typing import ClassVar, Final, get_args

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.content import Content
from textual.widgets import Static

from schedules.review.survival import By, Grouped
from schedules.review.survival.cohorts import AGES
from schedules.review.survival.statistics import Share
from schedules.session.hatches import SideBySide, regrouped, side_by_side
from schedules.session.session import Session
from schedules.wording.animals.survival import (
    BY_TEXT,
    began_text,
    cohort_text,
    conclusion,
    group_label,
    group_name,
    hatches_text,
    percent,
)
from tui.acts import bindings_of
from tui.screens.bases.text_screen import TextScreen
from tui.widgets.breakdown import hanging
from tui.widgets.plots.values import Column, Interval, IntervalPlot, Points
from tui.widgets.plots.view import PlotView
from tui.workers import fault_text, work_beside

LABEL: Final = 12
NUMBERS: Final = 24
"""Cells of a bar's label, and of the numbers after it."""
EMPTY, BETWEEN, POINT = "·", "─", "●"
READING: Final = "What was seen is being read."
NONE: Final = "No hatch of the last year is written down: say so at the stop where you see one."
SIGNS: Final = {30: ("●", "$accent"), 60: ("◆", "$primary")}
"""The sign and the colour of each age on the plot."""


class SurvivalScreen(TextScreen):
    """Survival by tank, line, month, season, temperature or feeding."""

    place = "survival"
    subject = "how many lived"
    BINDINGS: ClassVar[list[BindingType]] = [*bindings_of("survival")]

    def __init__(self, session: Session) -> None:
        super().__init__(session)
        self._by: By = "tank"
        self._found: SideBySide | None = None
        self._plotted = False

    def compose_body(self) -> ComposeResult:
        """The text, and the place of the plot."""
        yield Static(id="heading")
        yield PlotView(id="plot")
        yield from super().compose_body()

    def on_mount(self) -> None:
        """The table first."""
        super().on_mount()
        self._show_plotted()
        self._read()

    def _read(self) -> None:
        """Read the whole life beside the screen: in an old room that takes longer than a key may."""
        work_beside(self.app, partial(side_by_side, self.session, self._by), self._take, self._fail)

    def _take(self, found: SideBySide) -> None:
        if self.is_attached:
            # Another key may have been pressed meanwhile.
            self._found = found if found.by == self._by else regrouped(found, self._by)
            self.show_text()

    def _fail(self, error: Exception) -> None:
        self.say(f"What was seen could not be read: {fault_text(error)}")

    def lines(self, width: int) -> Iterable[Content]:
        """What can be concluded, the groups, then each hatch."""
        found = self._found
        if found is None:
            return hanging(READING, width, "")
        if not found.cohorts:
            return hanging(NONE, width, "")
        return self._lines(found, width)

    def _lines(self, found: SideBySide, width: int) -> Iterator[Content]:
        yield from hanging(conclusion(found.groups, found.by), width, "bold", indent=0)
        yield Content("")
        yield self._side_by_side("as_plot", "plot")
        for group in found.groups:
            yield from _group_lines(group, found.by, width)
        yield Content("")
        yield Content.styled("Each hatch", "bold $primary")
        for cohort in found.cohorts:
            yield from hanging(cohort_text(cohort, found.began[cohort.origin]), width, "")

    def _side_by_side(self, act: str, word: str) -> Content:
        keys = f"{self.key('by')}: by another, {self.key(act)}: as a {word}"
        return Content.styled(f"Side by side: {BY_TEXT[self._by]} ({keys})", "bold $primary")

    def action_as_plot(self) -> None:
        """The plot instead of the table, or the table again."""
        self._plotted = not self._plotted
        self._show_plotted()

    def _show_plotted(self) -> None:
        self.query_one("#scroll").display = not self._plotted
        for part in ("#heading", "#plot"):
            self.query_one(part).display = self._plotted
        found = self._found
        words = READING if found is None else conclusion(found.groups, found.by) if found.cohorts else NONE
        heading = [
            *hanging(words, max(20, self.app.size.width - 4), "bold", indent=0),
            self._side_by_side("as_plot", "table"),
        ]
        self.query_one("#heading", Static).update(Content("\n").join(heading))
        self.query_one(PlotView).show(plot_of(found) if self._plotted and found is not None and found.groups else None)

    def show_text(self) -> None:
        """Show table and plot as things stand now."""
        super().show_text()
        self._show_plotted()

    def action_more(self) -> None:
        """Read on, or the next groups of the plot."""
        if self._plotted:
            self.query_one(PlotView).page(1)
        else:
            super().action_more()

    def action_less(self) -> None:
        """Go back up, or the groups before."""
        if self._plotted:
            self.query_one(PlotView).page(-1)
        else:
            super().action_less()

    def action_by(self) -> None:
        """Put them side by side by the next in turn."""
        ways: tuple[By, ...] = get_args(By)
        self._by = ways[(ways.index(self._by) + 1) % len(ways)]
        if self._found is not None:
            self._found = regrouped(self._found, self._by)
        self.show_text()

    def catch_up(self, tanks: frozenset[str]) -> None:
        """Others wrote something: read it again."""
        super().catch_up(tanks)
        if tanks:
            self._read()


def plot_of(found: SideBySide) -> IntervalPlot:
    """The share alive of each group with the interval it lies in, at each age at which any was counted."""
    columns = tuple(Column(group_label(group, found.by), group.cohorts) for group in found.groups)
    series = (
        Points(f"at {age} days", *SIGNS[age], tuple(_interval(group.survival[age]) for group in found.groups))
        for age in AGES
    )
    counted = tuple(points for points in series if any(points.points))
    return IntervalPlot("alive, %", "hatches", 0, 100, columns, counted)


def _interval(share: Share | None) -> Interval | None:
    return None if share is None else Interval(share.low * 100, share.share * 100, share.high * 100)


def _group_lines(group: Grouped, by: By, width: int) -> Iterator[Content]:
    few = ", few" if group.few else ""
    yield from hanging(f"{group_name(group, by)}: {hatches_text(group.cohorts)}, {group.born} young{few}", width, "")
    yield from hanging(f"  {began_text(group)}", width, "$quiet")
    for age in AGES:
        share = group.survival[age]
        label = f"  at {age} days".ljust(LABEL)
        if share is None:
            yield Content.assemble(label, (" not counted", "$quiet"))
            continue
        numbers = f" {percent(share.share)} ({percent(share.low)} to {percent(share.high)})"
        of = f" of {group.counted[age]}" if width >= LABEL + NUMBERS + 30 else ""
        bar = interval_bar(share, max(10, min(50, width - LABEL - NUMBERS - len(of) - 1)))
        yield Content.assemble(label, " ", (bar, "$accent"), numbers, (of, "$quiet"))


def interval_bar(share: Share, width: int) -> str:
    """A share with its interval on a line from 0 to 1 of `width` cells."""
    low, at, high = (min(width - 1, int(value * width)) for value in (share.low, share.share, share.high))
    signs = (POINT if cell == at else BETWEEN if low <= cell <= high else EMPTY for cell in range(width))
    return "".join(signs)
