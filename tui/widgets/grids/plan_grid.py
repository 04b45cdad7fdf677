"""Tanks by days: what is served when, as a picture. Draws only the rows and days that are in view."""

from __future__ import annotations

from collections.abc import Container, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import ClassVar, Final

from rich.segment import Segment
from rich.style import Style
from textual import events
from textual.binding import Binding, BindingType
from textual.geometry import Size
from textual.message import Message
from textual.reactive import reactive
from textual.strip import Strip
from textual.widget import Widget

from schedules.formatting import MONTHS, WEEKDAYS
from tui.widgets.cells import fit

NAME: Final = 7
"""Cells of the tank's id at the left."""
DAY: Final = 4
"""Cells of a day."""
HEAD: Final = 4
"""Lines above the tanks: weekday, date, the minutes of the day's rounds as a bar and as a number."""
BARS: Final = " ▁▂▃▄▅▆▇█"
"""Eighths of a cell."""


@dataclass(frozen=True, slots=True)
class PlanPicture:
    """What the grid draws: tank ids, days, the minutes of each day, and the marks of each (tank, day).

    `rests` holds the rest weekday of tanks that have one, `changes` the (tank, day) on which stages change, `off` for
    each day whether all keepers are off.
    """

    tanks: Sequence[str]
    days: Sequence[date]
    minutes: Sequence[float]
    marks: Mapping[tuple[str, int], str]
    rests: Mapping[str, int]
    changes: Container[tuple[str, int]]
    off: Sequence[bool]

    def mark(self, tank: str, day: int) -> str:
        """What stands in a cell: letters of feeds, - on a rest day, * before where stages change, · for nothing."""
        resting = self.rests.get(tank) == self.days[day].weekday()
        mark = self.marks.get((tank, day), "-" if resting else "·")
        return f"*{mark}" if (tank, day) in self.changes else mark


class PlanGrid(Widget, can_focus=True):
    """A grid with a current cell, moved by the arrows, the page keys and the mouse."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("left", "move(-1, 0)", show=False),
        Binding("right", "move(1, 0)", show=False),
        Binding("up", "move(0, -1)", show=False),
        Binding("down", "move(0, 1)", show=False),
        Binding("pageup", "page(-1)", show=False),
        Binding("pagedown", "page(1)", show=False),
        Binding("home", "move(-999, 0)", show=False),
        Binding("end", "move(999, 0)", show=False),
    ]
    at: reactive[tuple[int, int]] = reactive((0, 0))
    """The current cell: number of the day, number of the tank."""

    class Moved(Message):
        """The current cell is another one."""

    def __init__(self, picture: PlanPicture) -> None:
        super().__init__(id="grid")
        self._picture = picture
        self._left = 0
        self._top = 0

    def show(self, picture: PlanPicture) -> None:
        """Draw another picture, keeping the place."""
        self._picture = picture
        self.action_move(0, 0)
        self.refresh()

    @property
    def cell(self) -> tuple[str, int] | None:
        """The tank's id and the current day's number."""
        day, row = self.at
        tanks = self._picture.tanks
        return (tanks[row], day) if row < len(tanks) else None

    @property
    def _view(self) -> Size:
        """How many days and tanks fit."""
        return Size(max(1, (self.size.width - NAME) // DAY), max(1, self.size.height - HEAD))

    def action_move(self, right: int, down: int) -> None:
        """Move the current cell, and the view with it."""
        day = min(max(0, self.at[0] + right), len(self._picture.days) - 1)
        row = min(max(0, self.at[1] + down), max(0, len(self._picture.tanks) - 1))
        view = self._view
        self._left = min(max(self._left, day - view.width + 1), day)
        self._top = min(max(self._top, row - view.height + 1), row)
        self.at = (day, row)

    def go_to(self, tank: str, day: int) -> None:
        """Move to a tank's cell of a day; to the first tank where this one is not there."""
        tanks = self._picture.tanks
        row = tanks.index(tank) if tank in tanks else 0
        self.action_move(day - self.at[0], row - self.at[1])

    def action_page(self, down: int) -> None:
        """Move by a screenful of tanks."""
        self.action_move(0, down * self._view.height)

    def on_resize(self) -> None:
        """Keep the current cell in view."""
        self.action_move(0, 0)
        self.refresh()

    def on_mouse_scroll_down(self, event: events.MouseScrollDown) -> None:
        """Move down."""
        event.stop()
        self.action_move(0, 3)

    def on_mouse_scroll_up(self, event: events.MouseScrollUp) -> None:
        """Move up."""
        event.stop()
        self.action_move(0, -3)

    def on_click(self, event: events.Click) -> None:
        """Go to the cell that was tapped."""
        day = self._left + (event.x - NAME) // DAY if event.x >= NAME else self.at[0]
        row = self._top + event.y - HEAD if event.y >= HEAD else self.at[1]
        self.action_move(day - self.at[0], row - self.at[1])

    def watch_at(self) -> None:
        """Tell that the current cell is another one."""
        self.post_message(self.Moved())

    def render_line(self, y: int) -> Strip:
        """One line of the picture."""
        view, base = self._view, self.rich_style
        days = range(self._left, min(self._left + view.width, len(self._picture.days)))
        segments = self._head(y, days, base) if y < HEAD else self._row(self._top + y - HEAD, days, base)
        return Strip(segments).adjust_cell_length(self.size.width, base)

    def _head(self, y: int, days: range, base: Style) -> list[Segment]:
        label = ("", "", "", "min")[y]
        segments = [Segment(f"{label:>{NAME - 1}} ", base + Style(dim=True))]
        most = max(self._picture.minutes, default=0.0)
        for day in days:
            strong = day == self.at[0]
            text = self._head_text(y, day, days.start, most)
            segments.append(Segment(f"{text:>{DAY - 1}} ", base + Style(bold=strong, dim=not strong and y != 2)))
        return segments

    def _head_text(self, y: int, day: int, first: int, most: float) -> str:
        """Weekday (`off` where all keepers are), date, bar or minutes of a day."""
        picture = self._picture
        at, minutes = picture.days[day], picture.minutes[day]
        if y == 0:
            return "off" if picture.off[day] else WEEKDAYS[at.weekday()]
        if y == 1:
            return MONTHS[at.month - 1] if at.day == 1 or day == first else str(at.day)
        if y == 2:
            return BARS[max(1, round(8 * minutes / most))] * (DAY - 1) if minutes > 0 else ""
        return str(round(minutes))

    def _row(self, row: int, days: range, base: Style) -> list[Segment]:
        if row >= len(self._picture.tanks):
            return [Segment("", base)]
        tank = self._picture.tanks[row]
        segments = [Segment(f"{fit(tank, NAME - 1)} ", base + Style(bold=row == self.at[1]))]
        for day in days:
            mark = self._picture.mark(tank, day)
            style = base + Style(dim=mark in "·-", bold=mark[0] == "*")
            if (day, row) == self.at:
                style = base + Style(reverse=True, bold=True)
            segments.append(Segment(f"{mark[: DAY - 1]:>{DAY - 1}} ", style))
        return segments
