"""A place on a screen in which a plot is drawn. Another thread draws: no key waits for it."""

from __future__ import annotations

from functools import partial

from textual.content import Content
from textual.worker import get_current_worker

from tui.widgets.lines import Lines
from tui.widgets.plots.drawing import columns_that_fit, drawn, part_of
from tui.widgets.plots.values import IntervalPlot, Plot


class PlotView(Lines):
    """Shows one plot, drawn again for every size; what it showed stays until the next is drawn."""

    def __init__(self, *, id: str) -> None:  # noqa: A002 (Textual's own word)
        super().__init__(id=id)
        self._plot: Plot | None = None
        self._first = 0
        self._wanted: tuple[Plot, int, int] | None = None

    def show(self, plot: Plot | None) -> None:
        """Draw another plot, or none."""
        self._plot, self._first = plot, 0
        if plot is None:
            self._wanted = None
            self.update(Content(""))
        self._draw()

    def page(self, down: int) -> None:
        """Show the columns after those that are shown, or before, where not all have room."""
        plot = self._plot
        if not isinstance(plot, IntervalPlot):
            return
        most = columns_that_fit(plot, self.size.width)
        first = self._first + down * most
        if 0 <= first < len(plot.columns):
            self._first = first
            self._draw()

    def on_resize(self) -> None:
        """Draw for the new size."""
        super().on_resize()
        self._draw()

    def _draw(self) -> None:
        plot, (width, height) = self._plot, self.size
        if plot is None or not self.size:
            return
        if isinstance(plot, IntervalPlot):
            plot = part_of(plot, self._first, width)
        wanted = (plot, width, height)
        if wanted != self._wanted:
            self._wanted = wanted
            work = partial(self._work, wanted)
            self.run_worker(work, thread=True, exclusive=True, group="plot", exit_on_error=False)

    def _work(self, wanted: tuple[Plot, int, int]) -> None:
        worker = get_current_worker()
        try:
            content = drawn(*wanted)
        except Exception as error:  # whatever it is, it is shown; the screen goes on without the plot
            content = Content(f"The plot could not be drawn: {type(error).__name__}")
        if not worker.is_cancelled:
            self.call_later(self._take, wanted, content)

    def _take(self, wanted: tuple[Plot, int, int], content: Content) -> None:
        """Show what was drawn, unless another is wanted meanwhile."""
        if wanted == self._wanted:
            self.update(content)
