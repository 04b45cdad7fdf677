"""Today's round: where I stand, what goes in here, how much and how, what this tank got lately, how far I am."""

from __future__ import annotations

from collections.abc import Collection
from functools import partial
from typing import ClassVar, Final

from textual import work
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal
from textual.content import Content
from textual.geometry import Size
from textual.widgets import DataTable, Static

from schedules.ledger import LedgerFault
from schedules.round import Stop
from schedules.session.session import Session
from schedules.wording.chores.chores import stop_id
from tui.acts import bindings_of
from tui.screens.animals.acts import AnimalsActs
from tui.screens.dashboard import HELD_SECONDS
from tui.screens.dialogs.choose import Choose
from tui.screens.dialogs.text_dialog import TextDialog, text_width
from tui.widgets.bar import Bar
from tui.widgets.cells import unbracketed
from tui.widgets.lines import Lines
from tui.widgets.stop_list import FRAME, StopList, list_width, state_of
from tui.widgets.stop_view import stop_content

NARROW: Final = "Which stops? A part of a rack, a feed or a state, such as: hold"
NARROW_HINT: Final = "enter lists these alone and goes to the chosen; with no text, all; esc closes"


class RoundScreen(AnimalsActs):
    """The stops on the left, the current stop on the right."""

    place = "round"
    BINDINGS: ClassVar[list[BindingType]] = [
        *bindings_of("round"),
        *(Binding(str(number), f"serving({number})", show=False) for number in range(2, 10)),
    ]

    def __init__(self, session: Session) -> None:
        super().__init__(session)
        self._later: set[str] = set()
        self._shown: Stop | None = None
        self._fits = Size(0, 0)
        self._leaving = False
        self._finished_at = -HELD_SECONDS
        self._list_width = list_width(0)

    def compose_body(self) -> ComposeResult:
        """The list of stops and the current stop."""
        yield Static(id="narrowed")
        with Horizontal(id="body"):
            yield StopList(self.session)
            yield Lines(id="stop", more=f"{self.key('more')} reads on")

    def on_mount(self) -> None:
        """Start at the next open stop."""
        self.open_round()

    def on_resize(self) -> None:
        """Fit the stop to the new size."""
        super().on_resize()
        width = list_width(self.app.size.width)
        if width != self._list_width:
            self._list_width = width
            at = self.stops.cursor_row
            self.stops.styles.width = width
            self.stops.fill()
            self.recolour()
            self.stops.move_cursor(row=at, animate=False)
        if self.app.size != self._fits:
            self.call_after_refresh(self.show_stop, again=True)

    def open_round(self) -> None:
        """Show the session's round from its first open stop on."""
        self._later.clear()
        self._narrow("", ())
        begun = self.session.sheet.done > 0
        self.query_one(Bar).show("" if begun else f"{self.key('show_prepare')}: what to prepare")
        self.go_to(self.stops.next_open())
        self.stops.focus()

    @property
    def stops(self) -> StopList:
        """The list of stops."""
        return self.query_one(StopList)

    @property
    def current_stop(self) -> Stop | None:
        """The stop the cursor is on."""
        stops, row = self.stops.stops, self.stops.cursor_row
        return stops[row] if 0 <= row < len(stops) else None

    @property
    def current_tank(self) -> str | None:
        """The tank of that stop."""
        stop = self.current_stop
        return stop.tank if stop else None

    def go_to(self, number: int) -> None:
        """Move to a stop by its number."""
        self.stops.move_cursor(row=number, animate=False)
        self.show_stop()

    def go_to_tank(self, tank: str) -> None:
        """Move to a tank's stop, listing all again where it is not among those listed; where it has none, say so."""
        if all(stop.tank != tank for stop in self.session.sheet.stops):
            self.say(f"{tank} has no stop in this round: nothing is due there")
            return
        if self.stops.find(tank) is None:
            self._narrow("", ())
        self.go_to(self.stops.find(tank) or 0)

    def show_stop(self, *, again: bool = False) -> None:
        """Show the current stop, unless just this is on the screen already or about to be left."""
        if self._leaving:
            return
        stop = self.current_stop
        if stop is None:
            text = f"Nothing is due in the {self.session.round} round of this day."
            self.query_one(Lines).update(Content(text))
        elif stop is not self._shown or again:
            self._fits = self.app.size
            width = max(20, self._fits.width - list_width(self._fits.width) - FRAME)
            flags = () if stop.tank is None else self.session.flags_of(stop.tank)
            size = (width, self._fits.height)
            content = stop_content(self.session, stop, flags, *size, self.key("show_flags"), self.key("for_young"))
            self.query_one(Lines).update(content, from_top=stop is not self._shown)
        self._shown = stop

    def recolour(self) -> None:
        """Draw the states in the new colours."""
        for stop in self.session.sheet.stops:
            self.stops.update_stop(stop, stop.key in self._later)

    def on_data_table_row_highlighted(self, event: DataTable.RowHighlighted) -> None:
        """Show the stop that was moved to."""
        event.stop()
        self.show_stop()

    def on_data_table_row_selected(self, event: DataTable.RowSelected) -> None:
        """Enter on a stop shows the tank's life; so does a tap on the current stop."""
        event.stop()
        self.entered()

    def catch_up(self, tanks: frozenset[str]) -> None:
        """Show what changed in these tanks, keeping the place; where stops came or went, make the list it again."""
        stops = self.stops.stops
        if self.stops.row_count != len(stops):
            at = self._shown.key if self._shown else None
            self._narrow(self.stops.narrowed_by if stops else "", {stop.key for stop in stops})
            self.go_to(self.stops.find(at) or 0)
        for stop in stops:
            if stop.tank is None or stop.tank in tanks:
                self.stops.update_stop(stop, stop.key in self._later)
        self.query_one(Bar).show("" if self.session.sheet.done else None)
        now = self.current_stop
        self.show_stop(again=now is not None and (now.tank is None or now.tank in tanks))

    def on_screen_resume(self) -> None:
        """Something else was done in between: the next press is no key held down."""
        self._finished_at = -HELD_SECONDS

    def action_finish(self) -> None:
        """Mark everything due at the stop, and go on to the next open one; a key that is held down counts once."""
        before, self._finished_at = self._finished_at, self.rackround.tick()
        if self._finished_at - before < HELD_SECONDS:
            return
        stop = self.current_stop
        if stop is not None and self.session.is_open(stop):
            self._leaving = True
            self.record(partial(self.session.finish, stop))
            self._leaving = False
        if stop is not None:
            self._go_on()

    def _go_on(self) -> None:
        now = self.current_stop
        if now is not None and not self.session.is_open(now):
            self.move_on()
        self.show_stop()

    def after_skip(self) -> None:
        """Go on to the next open stop where nothing more is due here."""
        self._go_on()

    def action_later(self) -> None:
        """Leave this stop for the end of the round and go on."""
        stop = self.current_stop
        if stop is not None and self.session.is_open(stop):
            self._later.add(stop.key)
            self.stops.update_stop(stop, later=True)
            self.say(f"{stop_id(stop)} comes again at the end of the round")
        self.move_on()

    def move_on(self) -> None:
        """Go to the next open stop in walking order; those left for later come last."""
        stops, number = self.stops.stops, self.stops.cursor_row
        order = [*range(number + 1, len(stops)), *range(number)]
        waiting = [each for each in order if self.session.is_open(stops[each])]
        fresh = [each for each in waiting if stops[each].key not in self._later]
        if waiting:
            self.go_to((fresh or waiting)[0])
        elif not any(self.session.is_open(stop) for stop in self.session.sheet.stops):
            self.say(f"The round is done. {self.key('show_lookback')} shows where to look back, and when")
            self._show_summary()
        elif not self.session.is_open(stops[number]):
            self.say(f"nothing more is due at these stops; {self.key('all_stops')} lists all again")

    def _show_summary(self) -> None:
        """What the round came to, each time an act finds it done."""
        from tui.widgets.summary import summary_lines

        lines = summary_lines(self.session, text_width(self.app.size.width))
        self.app.push_screen(TextDialog(f"The {self.session.round} round is done", lines))

    def action_more(self) -> None:
        """Read on in the current stop."""
        self.query_one(Lines).page(1)

    def action_less(self) -> None:
        """Go back up in the current stop."""
        self.query_one(Lines).page(-1)

    @work
    async def action_jump(self) -> None:
        """Find any tank: go to its stop, or show its life where nothing is due there."""
        from tui.screens.dialogs.find_tank import FindTank

        stops = {stop.tank for stop in self.session.sheet.stops}
        about = {tank: "" if tank in stops else "nothing due in this round" for tank in self.session.room.tanks}
        tank = await self.app.push_screen_wait(FindTank(self.session.room, about))
        if tank is not None:
            (self.go_to_tank if tank in stops else self.rackround.show_tank)(tank)

    @work
    async def action_find_stop(self) -> None:
        """Narrow the list to the stops whose rack, feeds or state hold a text, and go to the one that is chosen."""
        from tui.screens.dialogs.find_tank import FindTank, matching

        racks = {tank: rack.name or rack.id for rack in self.session.room.racks for tank in rack.tanks}
        stops = self.session.sheet.stops
        about = {stop.tank: self._about(stop, racks[stop.tank]) for stop in stops if stop.tank is not None}
        tank = await self.app.push_screen_wait(box := FindTank(self.session.room, about, NARROW, NARROW_HINT))
        if tank is not None:
            self._narrow(box.typed, matching(self.session.room, box.typed, about))
            self.go_to_tank(tank)

    def action_all_stops(self) -> None:
        """List all stops again, at the same one."""
        stop = self.current_stop
        self._narrow("", ())
        if stop is not None:
            self.go_to(self.stops.find(stop.key) or 0)

    def _narrow(self, text: str, keys: Collection[str]) -> None:
        self.stops.narrow(text, keys)
        self.recolour()
        line = self.query_one("#narrowed", Static)
        line.display = bool(text)
        line.update(Content(f"{self.stops.narrowed_text()}; {self.key('all_stops')} lists all"))

    def _about(self, stop: Stop, rack: str) -> str:
        """State, rack and feeds of a stop."""
        state, _ = state_of(self.session, stop, stop.key in self._later)
        chores = (each.chore.name for each in stop.chores)
        return ", ".join([state, rack, *(unbracketed(serving.feed_name) for serving in stop.servings), *chores])

    def action_show_round(self) -> None:
        """Go to the next open stop; after midnight, open the new day's round."""
        if self.session.new_day:
            self.record_opening(None)
        else:
            self.go_to(self.stops.next_open())

    @work
    async def action_other_round(self) -> None:
        """Walk another round of the day."""
        others = self.session.other_rounds
        if not others:
            self.say("this room has one round a day")
            return
        picked = 0 if len(others) == 1 else await self.app.push_screen_wait(Choose("Which round?", others))
        if picked is not None:
            self.record_opening(others[picked])

    def record_opening(self, round_id: str | None) -> None:
        """Open a round; where the ledger cannot be read, stay with this one and say so."""
        try:
            self.session.open(round_id)
        except LedgerFault as fault:
            self.say(str(fault))
            return
        self.rackround.open_round()
        self.say("the new day's round" if round_id is None else f"the {self.session.round} round")
