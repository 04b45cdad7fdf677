"""Today's round: where I stand, what goes in here, how much and how, what this tank got lately, how far I am."""

from __future__ import annotations

from functools import partial
from typing import ClassVar

from textual import work
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal, VerticalScroll
from textual.content import Content
from textual.widgets import DataTable, Static

from schedules.round import Stop
from tui.acts import bindings_of
from tui.desk import Desk, Told
from tui.screens.acting import Acting
from tui.screens.ask import Ask
from tui.screens.choose import Choose
from tui.widgets.bar import Bar
from tui.widgets.stop_list import StopList
from tui.widgets.stop_view import stop_content


class RoundScreen(Acting):
    """The stops on the left, the stop at hand on the right."""

    place = "round"
    BINDINGS: ClassVar[list[BindingType]] = [
        *bindings_of("round"),
        *(Binding(str(number), f"serving({number})", show=False) for number in range(1, 10)),
    ]

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self._later: set[str] = set()
        self._shown: Stop | None = None

    def compose_body(self) -> ComposeResult:
        """The list of stops and the stop at hand."""
        with Horizontal(id="body"):
            yield StopList(self.desk.room)
            with VerticalScroll(id="scroll", can_focus=False):
                yield Static(id="stop")

    def on_mount(self) -> None:
        """Start at the next open stop."""
        self.open_round()

    def open_round(self) -> None:
        """Show the desk's round from its first open stop on."""
        self._later.clear()
        self.stops.fill(self.desk.sheet)
        self.query_one(Bar).tell()
        self.go_to(self.desk.sheet.next_open() or 0)
        self.stops.focus()

    @property
    def stops(self) -> StopList:
        """The list of stops."""
        return self.query_one(StopList)

    @property
    def stop_at_hand(self) -> Stop | None:
        """The stop the cursor is on."""
        stops, row = self.desk.sheet.stops, self.stops.cursor_row
        return stops[row] if 0 <= row < len(stops) else None

    @property
    def tank_at_hand(self) -> str | None:
        """The tank of that stop."""
        stop = self.stop_at_hand
        return stop.tank if stop else None

    def go_to(self, number: int) -> None:
        """Move to a stop by its number."""
        self.stops.move_cursor(row=number, animate=False)
        self.show_stop()

    def show_stop(self) -> None:
        """Show the stop at hand, unless just this is on the screen already."""
        stop = self.stop_at_hand
        if stop is None:
            text = f"Nothing is due in the {self.desk.round} round of this day."
            self.query_one("#stop", Static).update(Content(text))
        elif stop is not self._shown:
            content = stop_content(self.desk, stop, self.desk.flags_of(stop.tank))
            self.query_one("#stop", Static).update(content)
            self.query_one("#scroll", VerticalScroll).scroll_home(animate=False)
        self._shown = stop

    def on_data_table_row_highlighted(self, event: DataTable.RowHighlighted) -> None:
        """Show the stop that was moved to."""
        event.stop()
        self.show_stop()

    def on_data_table_row_selected(self, event: DataTable.RowSelected) -> None:
        """Enter on a stop does what Space does."""
        event.stop()
        self.action_finish()

    def catch_up(self, tanks: frozenset[str]) -> None:
        """Show what changed in these tanks, keeping the place; where stops came or went, make the list anew."""
        stops = self.desk.sheet.stops
        if self.stops.row_count != len(stops):
            at = self._shown.tank if self._shown else None
            self.stops.fill(self.desk.sheet)
            self.go_to(next((number for number, stop in enumerate(stops) if stop.tank == at), 0))
        for stop in stops:
            if stop.tank in tanks:
                self.stops.tell(stop)
        self.query_one(Bar).tell()
        self.show_stop()

    def after(self, told: Told) -> None:
        """Show what an act came to; the way back is named beside it."""
        self.catch_up(told.tanks)
        takes_back = told.done and not told.text.startswith("taken back")
        self.tell(f"{told.text}. u takes it back" if takes_back else told.text)

    def action_finish(self) -> None:
        """Mark everything due at the stop, and go on to the next open one."""
        stop = self.stop_at_hand
        if stop is None:
            return
        if stop.open:
            self.record(partial(self.desk.finish, stop))
        now = self.stop_at_hand
        if now is not None and not now.open:
            self.move_on()

    def action_later(self) -> None:
        """Leave this stop for the end of the round and go on."""
        stop = self.stop_at_hand
        if stop is not None and stop.open:
            self._later.add(stop.tank)
            self.tell(f"{stop.tank} comes again at the end of the round")
        self.move_on()

    def move_on(self) -> None:
        """Go to the next open stop in walking order; those left for later come last."""
        sheet, number = self.desk.sheet, self.stops.cursor_row
        order = [*range(number + 1, len(sheet.stops)), *range(number)]
        waiting = [each for each in order if sheet.stops[each].open]
        fresh = [each for each in waiting if sheet.stops[each].tank not in self._later]
        if waiting:
            self.go_to((fresh or waiting)[0])
        elif sheet.next_open() is None:
            self.tell("The round is done. m shows what was missed, f the flags")

    @work
    async def action_jump(self) -> None:
        """Go to a tank by a part of its id or name."""
        part = await self.app.push_screen_wait(Ask("Which tank? A part of its id or name"))
        if not part:
            return
        stops = self.desk.sheet.stops
        found = [number for number, stop in enumerate(stops) if self._matches(stop, part)]
        if not found:
            self.tell(f'no stop of this round is called "{part}"')
        elif len(found) == 1:
            self.go_to(found[0])
        else:
            names = [f"{stops[n].tank} {self.desk.room.tanks[stops[n].tank].name}" for n in found]
            picked = await self.app.push_screen_wait(Choose(f'"{part}": which one?', names))
            if picked is not None:
                self.go_to(found[picked])

    def _matches(self, stop: Stop, part: str) -> bool:
        name = f"{stop.tank} {self.desk.room.tanks[stop.tank].name}"
        return part.casefold() in name.casefold()

    def action_show_round(self) -> None:
        """Open the round to walk now: after midnight, the new day's."""
        if self.desk.new_day:
            self.desk.open()
            self.open_round()
            self.tell("the new day's round")
        else:
            self.go_to(self.desk.sheet.next_open() or 0)

    @work
    async def action_other_round(self) -> None:
        """Walk another round of the day."""
        others = self.desk.other_rounds
        if not others:
            self.tell("this room has one round a day")
            return
        picked = 0 if len(others) == 1 else await self.app.push_screen_wait(Choose("Which round?", others))
        if picked is not None:
            self.desk.open(others[picked])
            self.open_round()
            self.tell(f"the {self.desk.round} round")
