"""What was too much or too little, worst first, each with its evidence and one thing to do."""

from __future__ import annotations

from typing import ClassVar

from textual.binding import BindingType

from schedules.formatting import date_text
from schedules.review.flags import Flag
from schedules.wording.entries import flag_name
from schedules.wording.flags import advice_text, evidence_text
from tui.acts import bindings_of
from tui.screens.bases.list_screen import ListScreen
from tui.screens.dialogs.text_dialog import TextDialog, text_width
from tui.widgets.breakdown import flag_reckoning
from tui.widgets.flag_line import flag_line


class FlagsScreen(ListScreen[Flag]):
    """The flags of the last days; those a keeper has seen come last, for every keeper."""

    place = "flags"
    subject = "flags"
    columns = (("weight", 8), ("day", 11), ("tank", 6), ("what", None))
    nothing = "No flags: nothing was too much or too little."
    BINDINGS: ClassVar[list[BindingType]] = [*bindings_of("flags")]

    def items(self) -> tuple[Flag, ...]:
        """All flags, worst first, then those set aside."""
        return tuple(sorted(self.session.flags(), key=self._is_seen))

    def _is_seen(self, flag: Flag) -> bool:
        return bool(self.session.seen_by(flag))

    def row(self, item: Flag) -> tuple[str, ...]:
        """Severity, day, tank, evidence."""
        weight = "seen" if self._is_seen(item) else item.severity
        return weight, date_text(item.day), item.tank, flag_line(self.session.room, item)

    def about(self, item: Flag) -> str:
        """The flag in full."""
        tank = self.session.room.tanks[item.tank]
        by = ", ".join(self.session.seen_by(item))
        seen = f" (seen by {by}; {self.key('aside')} takes that back)" if by else ""
        said = evidence_text(self.session.room, item)
        look = f" {self.key('arithmetic')} shows it." if item.advice == "look_what_changed" else ""
        return f"{tank.label}{seen}: {said}.\nDo: {advice_text(self.session.room, item)}{look}"

    def tank_of(self, item: Flag) -> str:
        """The tank it is about."""
        return item.tank

    def action_arithmetic(self) -> None:
        """Show what a flag means and what it was worked out from; of deaths, what changed before them."""
        flag = self.current_item
        if flag is not None and flag.advice == "look_what_changed":
            self.action_changed()
        elif flag is not None:
            lines = list(flag_reckoning(self.session, flag, text_width(self.app.size.width)))
            self.app.push_screen(TextDialog(f"{flag.tank}: {flag_name(self.session.room, flag.kind, None)}", lines))

    def action_aside(self) -> None:
        """Set a flag aside as seen, or take that back."""
        flag = self.current_item
        if flag is None:
            return
        act = self.session.withdraw if self._is_seen(flag) else self.session.acknowledge
        self.record(lambda: act(flag))
