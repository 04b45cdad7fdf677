"""A whole rack counted in one screen: tank after tank, digits only, Enter goes on."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import ClassVar

from textual.binding import BindingType

from schedules.ledger import Sighting, What
from schedules.room.kinds import STAGES, Stage
from schedules.session.outcome import Outcome
from schedules.session.session import Session
from schedules.wording.entries import STAGE_TEXT
from tui.screens.bases.walk_screen import WalkScreen, walk_bindings


@dataclass(frozen=True, slots=True)
class Line:
    """What is counted in one go: the animals of one stage in a tank."""

    tank: str
    stage: Stage


class CountingScreen(WalkScreen[Line]):
    """The stages that live in each tank of a rack; on top of the screen it was opened from."""

    place = "counting"
    subject = "counting a rack"
    columns = (("tank", 6), ("of which", 16), ("known", 8), ("counted", None))
    nothing = "No animals are noted in this rack."
    BINDINGS: ClassVar[list[BindingType]] = walk_bindings("counting")

    def __init__(self, session: Session, tank: str) -> None:
        super().__init__(session)
        room, day = session.room, session.day
        rack = room.tanks[tank].rack
        tanks = [each for each in room.walk if room.tanks[each].rack == rack]
        self._lines = tuple(
            Line(each, stage) for each in tanks for stage in STAGES if room.tanks[each].count(stage, day) > 0
        )
        self._known = {line: room.tanks[line.tank].count(line.stage, day) for line in self._lines}
        self._counted: dict[Line, int] = {}
        self._tank = tank

    @property
    def start(self) -> int:
        """The first line of the tank it was opened from."""
        return next((number for number, line in enumerate(self._lines) if line.tank == self._tank), 0)

    def items(self) -> tuple[Line, ...]:
        """In walking order."""
        return self._lines

    def row(self, item: Line) -> tuple[str, ...]:
        """Where, of which, how many were known, how many were counted."""
        counted = str(self._counted[item]) if item in self._counted else ""
        if self.typed and item == self.current_item:
            counted = self.typed
        return item.tank, STAGE_TEXT[item.stage], str(self._known[item]), counted

    def about(self, item: Line) -> str:
        """The tank, and the keys."""
        typed = f": {self.typed.rstrip('_')}" if self.typed else ""
        return (
            f"{self.session.room.tanks[item.tank].label}, {STAGE_TEXT[item.stage]}{typed}\n"
            f"Type the number; {self.key('next_count')} keeps it and goes on, without a number it only goes on; "
            f"{self.key('uncount')} takes back the last count."
        )

    def tank_of(self, item: Line) -> str:
        """The tank that is counted."""
        return item.tank

    def kept(self, item: Line, text: str, *, anyway: bool) -> Callable[[], Outcome]:
        """Record a count."""
        what = Sighting(item.tank, "count", item.stage, int(text), True)
        return lambda: self.session.saw(what, anyway=anyway)

    def took(self, item: Line, text: str) -> None:
        """A count was recorded."""
        self._counted[item] = int(text)

    def forget(self, item: Line) -> None:
        """A count was taken back."""
        self._counted.pop(item)

    def is_of(self, item: Line, what: What) -> bool:
        """Whether an entry is the count of a line."""
        return isinstance(what, Sighting) and (what.saw, what.tank, what.stage) == ("count", item.tank, item.stage)

    def said_at_end(self) -> str:
        """How many of the lines were counted."""
        return f"all seen: {len(self._counted)} of {len(self._lines)} counted"
