"""What was different in a tank and its rack in the last two weeks."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import timedelta
from typing import ClassVar, Final

from textual.binding import BindingType
from textual.content import Content

from schedules.review.changes import Difference, differences
from schedules.session.session import Session
from schedules.wording.animals.changes import difference_text
from tui.acts import bindings_of
from tui.screens.bases.text_screen import TextScreen
from tui.widgets.breakdown import hanging

DAYS: Final = 14


class ChangesScreen(TextScreen):
    """What tanks with deaths have in common first; on top of the screen it was opened from."""

    place = "changes"
    subject = "what changed"
    BINDINGS: ClassVar[list[BindingType]] = [*bindings_of("changes")]

    def __init__(self, session: Session, tank: str) -> None:
        super().__init__(session)
        self._tank = tank

    @property
    def current_tank(self) -> str | None:
        """The tank shown."""
        return self._tank if self._tank in self.session.room.tanks else None

    def lines(self, width: int) -> Iterable[Content]:
        """What tanks with trouble share, then what is the tank's own, then the rest of the rack."""
        session, tank = self.session, self.session.room.tanks.get(self._tank)
        if tank is None:
            return [Content(f"{self._tank} is no longer in the room file")]
        history = session.reaching(session.day - timedelta(days=2 * DAYS))
        found = differences(session.room, history, tank.id, session.day, DAYS)
        parts = {
            "In several tanks with trouble": [each for each in found if each.shared > 1],
            f"In {tank.id}": [each for each in found if each.shared < 2 and each.tank == tank.id],
            "Elsewhere in its rack": [each for each in found if each.shared < 2 and each.tank != tank.id],
        }
        head = Content.styled(f"{tank.label} and its rack, the last {DAYS} days", "bold")
        lines = [line for title, listed in parts.items() if listed for line in self._part(title, listed, width)]
        return [head, *(lines or [Content("nothing was written down that differed")])]

    def _part(self, title: str, found: Iterable[Difference], width: int) -> Iterator[Content]:
        yield Content("")
        yield Content.styled(title, "bold $primary")
        for each in found:
            style = "$warning" if each.kind == "dead" else ""
            yield from hanging(f"· {difference_text(self.session.room, each)}", width, style, indent=2)
