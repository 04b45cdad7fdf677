"""A whole rack counted in one screen: tank after tank, digits only, Enter goes on."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar, Final

from textual.binding import Binding, BindingType

from schedules.ledger import LedgerFault, Sighting
from schedules.room.kinds import STAGES, Stage
from schedules.session.recent import RecentAct
from schedules.session.session import Session
from schedules.wording.entries import STAGE_TEXT
from tui.acts import bindings_of
from tui.screens.bases.list_screen import ListScreen

MOST_DIGITS: Final = 5


@dataclass(frozen=True, slots=True)
class Line:
    """What is counted in one go: the animals of one stage in a tank."""

    tank: str
    stage: Stage


class CountingScreen(ListScreen[Line]):
    """The stages that live in each tank of a rack; on top of the screen it was opened from."""

    place = "counting"
    subject = "counting a rack"
    columns = (("tank", 6), ("of which", 16), ("known", 8), ("counted", None))
    nothing = "No animals are noted in this rack."
    BINDINGS: ClassVar[list[BindingType]] = [
        *(Binding(str(digit), f"digit({digit})", show=False, priority=True) for digit in range(10)),
        *bindings_of("counting"),
    ]

    def __init__(self, session: Session, tank: str) -> None:
        super().__init__(session)
        room, day = session.room, session.day
        rack = room.tanks[tank].rack
        tanks = [each for each in room.walk if room.tanks[each].rack == rack]
        self._lines = [
            Line(each, stage) for each in tanks for stage in STAGES if room.tanks[each].count(stage, day) > 0
        ]
        self._known = {line: room.tanks[line.tank].count(line.stage, day) for line in self._lines}
        self._counted: dict[Line, int] = {}
        self._order: list[Line] = []
        self._typed = ""
        self._start = next((number for number, line in enumerate(self._lines) if line.tank == tank), 0)

    def on_mount(self) -> None:
        """Begin at the tank it was opened from."""
        super().on_mount()
        self.table.move_cursor(row=self._start, animate=False)

    def items(self) -> tuple[Line, ...]:
        """In walking order."""
        return tuple(self._lines)

    def row(self, item: Line) -> tuple[str, ...]:
        """Where, of which, how many were known, how many were counted."""
        counted = str(self._counted[item]) if item in self._counted else ""
        if self._typed and item == self.current_item:
            counted = f"{self._typed}_"
        return item.tank, STAGE_TEXT[item.stage], str(self._known[item]), counted

    def about(self, item: Line) -> str:
        """The tank, and the keys."""
        typed = f": {self._typed}" if self._typed else ""
        return (
            f"{self.session.room.tanks[item.tank].label}, {STAGE_TEXT[item.stage]}{typed}\n"
            f"Type the number; {self.key('next_count')} keeps it and goes on, without a number it only goes on; "
            f"{self.key('uncount')} takes back the last count."
        )

    def tank_of(self, item: Line) -> str:
        """The tank that is counted."""
        return item.tank

    def action_digit(self, digit: int) -> None:
        """Type a digit."""
        self._type((self._typed + str(digit))[:MOST_DIGITS])

    def action_rub_out(self) -> None:
        """Take away the last digit."""
        self._type(self._typed[:-1])

    def _type(self, text: str) -> None:
        self._typed = text
        self.fill()

    def action_next_count(self) -> None:
        """Keep the number typed, and go on to the next."""
        line = self.current_item
        if line is None or (self._typed and not self._keep(line, int(self._typed))):
            return
        self._typed = ""
        self._go_to(self.table.cursor_row + 1)

    def _keep(self, line: Line, heads: int) -> bool:
        """Record a count; where the ledger fails, say so and keep what was typed."""
        try:
            outcome = self.session.saw(Sighting(line.tank, "count", line.stage, heads, True))
        except LedgerFault as fault:
            self.say(f"NOT SAVED. {fault}")
            return False
        self._counted[line] = heads
        self._order = [*(each for each in self._order if each != line), line]
        self.after(outcome)
        return True

    def action_uncount(self) -> None:
        """Take back the last count made here, and go back to it."""
        if not self._order:
            self.say("nothing was counted here yet")
            return
        line = self._order[-1]
        act = self._act_of(line)
        self.record(self.session.undo if act is None else lambda: self.session.take_back([act]))
        self._order.pop()
        self._counted.pop(line)
        self._typed = ""
        self._go_to(self._lines.index(line))

    def _act_of(self, line: Line) -> RecentAct | None:
        """The newest act of today that is a count of this line; None where it is not saved yet."""
        if self.session.unsaved:
            return None
        for act in self.session.recent():
            what = act.entries[0].what
            if isinstance(what, Sighting) and (what.saw, what.tank, what.stage) == ("count", line.tank, line.stage):
                return act
        return None

    def _go_to(self, row: int) -> None:
        self.fill()
        self.table.move_cursor(row=min(row, len(self._lines) - 1), animate=False)
        self._show_about()
        if row >= len(self._lines):
            self.say(f"all seen: {len(self._counted)} of {len(self._lines)} counted")
