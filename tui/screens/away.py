"""A helper's sheet that came back: tanks by visits, ticked in a minute and written down as the helper's."""

from __future__ import annotations

from datetime import date
from typing import ClassVar, Final

from rich.text import Text
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.content import Content
from textual.coordinate import Coordinate
from textual.widgets import DataTable

from schedules.formatting import WEEKDAYS, counted, date_text
from schedules.leave.ticks import HelperSheet, Place, Tick
from schedules.ledger import LedgerFault
from schedules.session.outcome import Outcome
from schedules.session.session import Session
from schedules.wording.entries import due_text, feed_name
from schedules.wording.outcomes import outcome_text
from tui.acts import bindings_of
from tui.screens.bases.base_screen import BaseScreen
from tui.widgets.cells import cut
from tui.widgets.lines import Lines

NEXT: Final[dict[Tick | None, Tick | None]] = {None: "given", "given": "left", "left": "cloudy", "cloudy": None}
NOT_SAID, NOT_DUE = "?", "·"
DAY_WIDTH, TANK_WIDTH = 7, 8
NOTHING: Final = "No leave plan has begun, or all of its visits are marked. `rackround leave` makes one."


class AwayScreen(BaseScreen):
    """The open visits of the newest leave plan, not said at first."""

    place = "away"
    subject = "a helper's sheet"
    BINDINGS: ClassVar[list[BindingType]] = [*bindings_of("away")]

    def __init__(self, session: Session) -> None:
        super().__init__(session)
        self._ticks: dict[Place, Tick] = {}
        self._written: list[tuple[str, int]] = []
        self._read()

    def _read(self) -> None:
        """Take the sheet as it is open now."""
        try:
            self._sheet: HelperSheet | None = self.session.helper_sheet()
        except LedgerFault as fault:
            self._sheet = None
            self.say(f"The ledger cannot be read. {fault}")
        visits = {} if self._sheet is None else self._sheet.visits
        self._days: tuple[date, ...] = () if self._sheet is None else self._sheet.days
        self._tanks = [tank for tank in self.session.room.walk if any((day, tank) in visits for day in self._days)]
        self._ticks = {place: tick for place, tick in self._ticks.items() if place in visits}

    def compose_body(self) -> ComposeResult:
        """The grid, and the current cell in words."""
        yield DataTable[Text](id="list", cursor_type="cell", cell_padding=0, fixed_columns=1)
        yield Lines(id="detail")

    def on_mount(self) -> None:
        """Fill the grid, and begin at the first tank's first open visit."""
        self._fill()
        visits = {} if self._sheet is None else self._sheet.visits
        opens = (n for n, day in enumerate(self._days, 1) if self._tanks and (day, self._tanks[0]) in visits)
        self.table.move_cursor(row=0, column=next(opens, 1), animate=False)

    @property
    def table(self) -> DataTable[Text]:
        """The grid."""
        return self.query_one("#list", DataTable)

    @property
    def _place(self) -> Place | None:
        """The visit under the cursor; None where nothing is open."""
        row, column = self.table.cursor_coordinate
        if self._sheet is None or not (0 <= row < len(self._tanks) and 1 <= column <= len(self._days)):
            return None
        place = (self._days[column - 1], self._tanks[row])
        return place if place in self._sheet.visits else None

    def _fill(self) -> None:
        at = self.table.cursor_coordinate
        self.table.clear(columns=True)
        self.table.add_column(Text("tank"), width=TANK_WIDTH)
        for day in self._days:
            self.table.add_column(Text(f"{WEEKDAYS[day.weekday()]} {day.day}"), width=DAY_WIDTH)
        for tank in self._tanks:
            self.table.add_row(Text(cut(tank, TANK_WIDTH - 1)), *(self._cell((day, tank)) for day in self._days))
        row, column = min(at.row, max(0, len(self._tanks) - 1)), min(max(1, at.column), len(self._days))
        self.table.move_cursor(row=row, column=column, animate=False)
        # An empty grid keeps keys to itself and does nothing with them.
        self.set_focus(self.table if self._tanks else None)
        self._tell()

    def _cell(self, place: Place) -> Text:
        if self._sheet is None or place not in self._sheet.visits:
            return Text(NOT_DUE)
        return Text(self._ticks.get(place, NOT_SAID))

    def on_data_table_cell_highlighted(self, event: DataTable.CellHighlighted) -> None:
        """Say what was due in the current cell."""
        event.stop()
        self._tell()

    def on_data_table_cell_selected(self, event: DataTable.CellSelected) -> None:
        """Enter on a cell."""
        event.stop()
        self.entered()

    def _tell(self) -> None:
        self.query_one(Lines).update(Content(NOTHING if self._sheet is None or not self._days else self._words()))

    def _words(self) -> str:
        sheet, place = self._sheet, self._place
        assert sheet is not None
        said = {tick: list(self._ticks.values()).count(tick) for tick in ("given", "left", "cloudy")}
        still = len(sheet.visits) - len(self._ticks)
        head = (
            f"{sheet.helper}: {said['given']} given, {said['left']} left out, {said['cloudy']} cloudy, {still} not said"
        )
        keys = (
            f"{self.key('tick')} ticks, {self.key('all_planned')} the rest as planned, {self.key('write_ticks')} writes"
        )
        if place is None:
            return f"{head}\n{keys}"
        room = self.session.room
        due = ", ".join(f"{due_text(room, each)} of {feed_name(room, each.feed)}" for each in sheet.visits[place])
        return f"{room.tanks[place[1]].label}, {date_text(place[0])}: {due}\n{head}\n{keys}"

    def action_tick(self) -> None:
        """Tick the current visit: given, left out, cloudy, not said."""
        place = self._place
        if place is None:
            self.say("nothing was due here")
            return
        tick = NEXT[self._ticks.get(place)]
        if tick is None:
            self._ticks.pop(place, None)
        else:
            self._ticks[place] = tick
        self.table.update_cell_at(Coordinate(*self.table.cursor_coordinate), self._cell(place))
        self._tell()

    def action_all_planned(self) -> None:
        """Tick everything not said as given."""
        visits = () if self._sheet is None else self._sheet.visits
        self._ticks = dict.fromkeys(visits, NEXT[None] or "given") | self._ticks
        self._fill()

    def action_write_ticks(self) -> None:
        """Write down what is ticked."""
        if self._sheet is None or not self._ticks:
            self.say("nothing is ticked yet")
            return
        helper = self._sheet.helper
        try:
            outcome = self.session.enter_ticks(self._sheet, self._ticks)
        except LedgerFault as fault:
            self.say(f"NOT SAVED. {fault}")
            return
        self._written.append((helper, outcome.count))
        self._after(outcome, f"written for {helper}: {counted(outcome.count, 'day')}")

    def action_untick(self) -> None:
        """Take back all that was written last."""
        if not self._written:
            self.say("nothing was written here yet")
            return
        helper, count = self._written.pop()
        try:
            outcome = self.session.undo_as(helper, count)
        except LedgerFault as fault:
            self.say(f"NOT SAVED. {fault}")
            return
        self._after(outcome, f"taken back: {counted(count, 'day')} of {helper}")

    def _after(self, outcome: Outcome, text: str) -> None:
        """Show how things stand after an act."""
        self._read()
        self._fill()
        way_back = f"{self.key('untick')} takes it back" if self._written else ""
        done = outcome.done or outcome.kept
        self.rackround.caught_up(outcome.tanks)
        self.say(text if outcome.done else outcome_text(self.session.room, outcome), way_back if done else "")

    def catch_up(self, tanks: frozenset[str]) -> None:
        """Others marked something: show what is still open."""
        super().catch_up(tanks)
        if tanks and self.is_mounted:
            self._read()
            self._fill()
