"""The water of the whole room: every tank with what was found in its readings, worst first."""

from __future__ import annotations

from functools import partial
from typing import ClassVar

from textual.binding import BindingType

from schedules.formatting import day_text
from schedules.review.water import TankState, worst_first
from schedules.wording.water.state import found_lines, state_text
from tui.acts import bindings_of
from tui.screens.bases.list_screen import ListScreen
from tui.workers import fault_text, work_beside


class WaterScreen(ListScreen[TankState]):
    """All tanks: those in which something was found come first."""

    place = "water"
    subject = "water"
    columns = (("weight", 8), ("tank", 6), ("read", 11), ("what", None))
    left_out = frozenset(("read",))
    nothing = "What was read is being looked at."
    BINDINGS: ClassVar[list[BindingType]] = [*bindings_of("water")]

    _states: tuple[TankState, ...] = ()

    def on_mount(self) -> None:
        """Look through the readings beside the screen: in a large room that takes longer than a key may."""
        super().on_mount()
        self._look()

    def _look(self) -> None:
        session = self.session
        work = partial(worst_first, session.room, session.history, session.day)
        work_beside(self.app, work, self._take, self._fail)

    def _take(self, states: tuple[TankState, ...]) -> None:
        if self.is_attached:
            self._states = states
            self.fill()

    def _fail(self, error: Exception) -> None:
        self.say(f"The readings could not be looked at: {fault_text(error)}")

    def catch_up(self, tanks: frozenset[str]) -> None:
        """Something was written: look through the readings again."""
        super().catch_up(tanks)
        if tanks:
            self._look()

    def items(self) -> tuple[TankState, ...]:
        """Worst first, once they were looked at."""
        return self._states

    def row(self, item: TankState) -> tuple[str, ...]:
        """How bad, where, when it was read last, what was found."""
        read = "" if item.read is None else day_text(item.read, self.session.day)
        return item.severity or "", item.tank, read, state_text(self.session.room, item)

    def about(self, item: TankState) -> str:
        """All that was found in a tank."""
        room = self.session.room
        label = room.tanks[item.tank].label
        found = list(found_lines(room, item))
        return f"{label}, {found[0]}" if found else f"{label}: {state_text(room, item)}"

    def tank_of(self, item: TankState) -> str:
        """The tank."""
        return item.tank

    def action_open_water(self) -> None:
        """Show this tank's water."""
        if self.current_tank is not None:
            self.rackround.show_water(self.current_tank)
