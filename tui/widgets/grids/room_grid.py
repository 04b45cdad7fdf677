"""The racks as they stand: each tank a small cell with its state in a word. Draws only the lines that are in view."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import ClassVar, Final

from rich.segment import Segment
from rich.style import Style
from textual import events
from textual.binding import Binding, BindingType
from textual.message import Message
from textual.reactive import reactive
from textual.strip import Strip
from textual.widget import Widget

from tui.widgets.cells import fit
from tui.widgets.colours import theme_style

CELL: Final = 15
"""Cells of the terminal that a tank's cell takes, the gap after it included."""
ID: Final = 6


@dataclass(frozen=True, slots=True)
class TankCell:
    """A tank as it is drawn: id, a word, the theme's colour for it, and its name."""

    tank: str
    word: str
    colour: str
    name: str


@dataclass(frozen=True, slots=True)
class RackPicture:
    """A rack's name and its tanks in walking order."""

    name: str
    cells: tuple[TankCell, ...]


@dataclass(frozen=True, slots=True)
class _Line:
    """A line of the picture: a rack's name, or tanks from number `first` on; `names` for the line of their names."""

    text: str
    first: int = 0
    cells: tuple[TankCell, ...] = ()
    names: bool = False


class RoomGrid(Widget, can_focus=True):
    """A grid with a current tank, moved by the arrows and the mouse."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("left", "step(-1)", show=False),
        Binding("right", "step(1)", show=False),
        Binding("up", "climb(-1)", show=False),
        Binding("down", "climb(1)", show=False),
        Binding("home", "step(-9999)", show=False),
        Binding("end", "step(9999)", show=False),
    ]
    at: reactive[int] = reactive(0)
    """The number of the current tank, counted through all racks."""

    class Moved(Message):
        """Another tank is the current one."""

    class Tapped(Message):
        """The current tank was tapped."""

    def __init__(self, racks: Sequence[RackPicture]) -> None:
        super().__init__(id="racks")
        self._lines: list[_Line] = []
        self._top = 0
        self.show(racks)

    def show(self, racks: Sequence[RackPicture]) -> None:
        """Draw other states, keeping the place."""
        self._racks = racks
        self._tanks = [cell for rack in racks for cell in rack.cells]
        self._lay_out()
        self.refresh()

    @property
    def tank(self) -> str | None:
        """The current tank."""
        return self._tanks[self.at].tank if self.at < len(self._tanks) else None

    def go_to(self, tank: str) -> None:
        """Make a tank the current one."""
        self.at = next((number for number, cell in enumerate(self._tanks) if cell.tank == tank), self.at)

    def _lay_out(self) -> None:
        """The lines for the present width; names below the ids where all of it fits."""
        across = max(1, self.size.width // CELL)
        for names in (True, False):
            self._lines, first = [], 0
            for rack in self._racks:
                self._lines.append(_Line(rack.name))
                for start in range(0, len(rack.cells), across):
                    cells = rack.cells[start : start + across]
                    self._lines.append(_Line("", first + start, cells))
                    self._lines += [_Line("", first + start, cells, names=True)] if names else []
                first += len(rack.cells)
            if len(self._lines) <= self.size.height:
                break
        self._keep_in_view()

    def _line_of(self, number: int) -> int:
        return next((y for y, line in enumerate(self._lines) if line.first <= number < line.first + len(line.cells)), 0)

    def _keep_in_view(self) -> None:
        y, height = self._line_of(self.at), max(2, self.size.height)
        self._top = max(0, min(self._top, y - 1, len(self._lines) - 1))
        self._top = max(self._top, y - height + 1)

    def action_step(self, by: int) -> None:
        """Go along the walk."""
        self.at = min(max(0, self.at + by), max(0, len(self._tanks) - 1))

    def action_climb(self, down: int) -> None:
        """Go to the tank above or below."""
        rows = [line for line in self._lines if line.cells and not line.names]
        row = next((n for n, line in enumerate(rows) if line.first <= self.at < line.first + len(line.cells)), 0)
        target = row + down
        if 0 <= target < len(rows):
            self.at = rows[target].first + min(self.at - rows[row].first, len(rows[target].cells) - 1)

    def on_resize(self) -> None:
        """Lay out again."""
        self._lay_out()
        self.refresh()

    def on_mouse_scroll_down(self, event: events.MouseScrollDown) -> None:
        """Move down."""
        event.stop()
        self.action_climb(1)

    def on_mouse_scroll_up(self, event: events.MouseScrollUp) -> None:
        """Move up."""
        event.stop()
        self.action_climb(-1)

    def on_click(self, event: events.Click) -> None:
        """Go to the tank that was tapped; a tap on the current tank opens it."""
        y = self._top + event.y
        if y >= len(self._lines) or event.x // CELL >= len(self._lines[y].cells):
            return
        number = self._lines[y].first + event.x // CELL
        if number == self.at:
            self.post_message(self.Tapped())
        self.at = number

    def watch_at(self) -> None:
        """Post that another tank is the current one."""
        self._keep_in_view()
        self.post_message(self.Moved())

    def render_line(self, y: int) -> Strip:
        """One line of the picture."""
        base, number = self.rich_style, self._top + y
        if number >= len(self._lines):
            return Strip.blank(self.size.width, base)
        line = self._lines[number]
        if not line.cells:
            return Strip([Segment(fit(line.text, self.size.width), base + Style(bold=True))])
        segments = [
            segment for place, cell in enumerate(line.cells) for segment in self._cell(line, line.first + place, cell)
        ]
        return Strip(segments).adjust_cell_length(self.size.width, base)

    def _cell(self, line: _Line, number: int, cell: TankCell) -> list[Segment]:
        base = self.rich_style
        here = base + Style(reverse=True, bold=True) if number == self.at else base
        gap = Segment(" ", base)
        if line.names:
            return [Segment(fit(cell.name, CELL - 1), here + Style(dim=number != self.at)), gap]
        coloured = here if number == self.at else here + theme_style(self.app, cell.colour)
        return [
            Segment(fit(cell.tank, ID), here + Style(bold=True)),
            Segment(fit(cell.word, CELL - 1 - ID), coloured),
            gap,
        ]
