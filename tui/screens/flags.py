"""What was too much or too little, worst first, each with its evidence and one thing to do."""

from __future__ import annotations

from typing import ClassVar

from textual.binding import BindingType

from schedules.flags import Flag
from schedules.words import date_text
from tui.acts import bindings_of
from tui.screens.listing import BACK, Listing


class FlagsScreen(Listing[Flag]):
    """The flags of the last days."""

    place = "flags"
    subject = "flags"
    columns = (("weight", 8), ("day", 11), ("tank", 6), ("evidence", None))
    nothing = "No flags: nothing was too much or too little."
    BINDINGS: ClassVar[list[BindingType]] = [*bindings_of("flags"), BACK]

    def items(self) -> tuple[Flag, ...]:
        """All flags, worst first."""
        return self.desk.flags()

    def row(self, item: Flag) -> tuple[str, ...]:
        """Severity, day, tank, evidence."""
        return item.severity, date_text(item.day), item.tank, item.evidence

    def about(self, item: Flag) -> str:
        """The flag in full."""
        tank = self.desk.room.tanks[item.tank]
        return f"{tank.id} {tank.name}: {item.evidence}.\nDo: {item.advice}"
