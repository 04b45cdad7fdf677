"""The room: racks as they stand, each tank with its state today."""

from __future__ import annotations

from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.content import Content

from schedules.history.answers import last_answered
from schedules.room.needs import clocks_of
from schedules.round import Stop
from schedules.session.session import Session
from tui.acts import bindings_of
from tui.screens.bases.tank_acts import TankActs
from tui.widgets.bar import Bar
from tui.widgets.cells import cut
from tui.widgets.flag_line import flag_line
from tui.widgets.grids.room_grid import RackPicture, RoomGrid, TankCell
from tui.widgets.lines import Lines
from tui.widgets.stop_list import state_of

LEGEND = "! flagged, late: past its gap"


class RoomScreen(TankActs):
    """Every tank as a cell."""

    place = "room"
    subject = "the room today"
    BINDINGS: ClassVar[list[BindingType]] = [*bindings_of("room")]

    def compose_body(self) -> ComposeResult:
        """The racks, and the current tank in words."""
        yield RoomGrid(room_picture(self.session))
        yield Lines(id="detail")

    def on_mount(self) -> None:
        """Start at the next open stop."""
        grid, sheet = self.query_one(RoomGrid), self.session.sheet
        tank = sheet.next_tank()
        if tank is not None:
            grid.go_to(tank)
        grid.focus()
        self.query_one(Bar).show(LEGEND)
        self._show_tank()

    @property
    def current_tank(self) -> str | None:
        """The tank the cursor is on."""
        return self.query_one(RoomGrid).tank

    def on_room_grid_moved(self) -> None:
        """Say more about the current tank."""
        self._show_tank()

    def on_room_grid_tapped(self) -> None:
        """A tap on the current tank shows its life."""
        self.action_open_tank()

    def _show_tank(self) -> None:
        tank_id, stop = self.current_tank, self.current_stop
        if tank_id is None:
            return
        tank, width = self.session.room.tanks[tank_id], self.app.size.width - 2
        servings = (
            "; ".join(f"{each.feed_name}: {_state(each.state, each.held is not None)}" for each in stop.servings)
            if stop
            else ""
        )
        flags = self.session.flags_of(tank_id)
        standing = self.session.standing(flags)
        none = "no flags but seen ones" if flags else "no flags"
        flag = f"! {flag_line(self.session.room, standing[0])}" if standing else none
        lines = [
            f"{', '.join(filter(None, (tank.label, tank.place)))}",
            servings or "nothing is due in this round",
            flag,
        ]
        self.query_one(Lines).update(Content("\n").join([Content(cut(line, width)) for line in lines]))

    def recolour(self) -> None:
        """Draw the states in the new colours."""
        self.query_one(RoomGrid).refresh()

    def catch_up(self, tanks: frozenset[str]) -> None:
        """Show the states as they are now."""
        super().catch_up(tanks)
        if tanks:
            self.query_one(RoomGrid).show(room_picture(self.session))
            self._show_tank()


def _state(state: str, held: bool) -> str:
    return "hold back" if held else state


def room_picture(session: Session) -> tuple[RackPicture, ...]:
    """What the grid draws of the room today."""
    stops = {stop.tank: stop for stop in session.sheet.stops}
    return tuple(
        RackPicture(rack.name, tuple(_cell(session, tank, stops.get(tank)) for tank in rack.tanks))
        for rack in session.room.racks
    )


def _cell(session: Session, tank: str, stop: Stop | None) -> TankCell:
    word, colour = state_of(session, stop) if stop is not None else ("·", "")
    word = word.removesuffix(" !")
    if stop is not None and session.is_open(stop) and _is_late(session, tank, stop):
        word, colour = word.replace("due", "late"), "warning"
    flagged = any(flag.severity != "low" for flag in session.standing(session.flags_of(tank)))
    return TankCell(tank, word + (" !" if flagged else ""), colour, session.room.tanks[tank].name)


def _is_late(session: Session, tank: str, stop: Stop) -> bool:
    """Whether something due at a stop answers a need whose longest gap has run out."""
    clocks = clocks_of(session.room, session.room.tanks[tank])
    due = {serving.due.feed for serving in stop.servings if serving.state == "due"}
    for clock in clocks.values():
        longest = clock.rules.max_gap
        last = last_answered(session.history, tank, clock.feeds, session.day)
        waits = longest is not None and last is not None and (session.day - last[0]).days > longest
        if waits and due & set(clock.feeds):
            return True
    return False
