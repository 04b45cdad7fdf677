"""Looking back: the tanks to check for leftovers, in the order of their time."""

from __future__ import annotations

from typing import ClassVar

from textual.binding import BindingType

from schedules.amounts import LookBack, look_back
from schedules.formatting import clock_text
from schedules.ledger import Leftovers, Response, Served
from schedules.wording.amounts import look_text
from schedules.wording.doses import given_text
from tui.acts import bindings_of
from tui.screens.bases.list_screen import ListScreen


class LookbackScreen(ListScreen[LookBack]):
    """What was given today and nobody has reported on yet."""

    place = "lookback"
    subject = "looking back"
    columns = (("from", 10), ("tank", 6), ("look whether", None))
    nothing = "Nothing to look back at: nothing was given yet that should be gone later, or all is reported."
    BINDINGS: ClassVar[list[BindingType]] = [*bindings_of("lookback")]

    def items(self) -> tuple[LookBack, ...]:
        """By time, then in walking order."""
        session = self.session
        return look_back(session.room, session.history, session.day, session.clock())

    def row(self, item: LookBack) -> tuple[str, ...]:
        """From when, where, what should be seen."""
        now = " now" if item.passed else ""
        return clock_text(item.at, self.session.room.zone) + now, item.tank, look_text(self.session.room, item)

    def about(self, item: LookBack) -> str:
        """What was given when and by whom, and the keys."""
        tank, given = self.session.room.tanks[item.tank], item.given
        what = given.what
        dose = given_text(self.session.room, self.session.doses, what) if isinstance(what, Served) else ""
        when = f"{clock_text(given.at, self.session.room.zone)} {given.by or 'the program'}"
        keys = ", ".join(f"{self.key(f'left_{word}')} {word}" for word in ("none", "some", "most"))
        came = ", ".join(f"{self.key(f'came_{word}')} {word}" for word in ("fast", "slowly", "nobody"))
        asked = "How much haze is there?" if item.look == "clear" else "How much is lying?"
        look = look_text(self.session.room, item)
        return f"{tank.label}: {look}.\nGiven {when}: {dose}.\n{asked} {keys}.\nDid they come? {came}"

    def tank_of(self, item: LookBack) -> str:
        """The tank to look at."""
        return item.tank

    def action_left_none(self) -> None:
        """Nothing is left."""
        self._report("none")

    def action_left_some(self) -> None:
        """Some is left."""
        self._report("some")

    def action_left_most(self) -> None:
        """Most is left."""
        self._report("most")

    def action_came_fast(self) -> None:
        """They came fast."""
        self._came("fast")

    def action_came_slowly(self) -> None:
        """They came slowly."""
        self._came("slowly")

    def action_came_nobody(self) -> None:
        """Nobody came."""
        self._came("nobody")

    def _came(self, response: Response) -> None:
        item = self.current_item
        if item is not None:
            self.record(lambda: self.session.came(item.tank, item.feed, response))

    def _report(self, leftovers: Leftovers) -> None:
        item = self.current_item
        if item is not None:
            self.record(lambda: self.session.observe(item.tank, item.feed, leftovers))
