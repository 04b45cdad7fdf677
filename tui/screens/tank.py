"""One tank: its life at a glance, with the acts at its stop."""

from __future__ import annotations

from collections.abc import Iterable
from typing import ClassVar

from textual.binding import Binding, BindingType
from textual.content import Content

from schedules.session.session import Session
from tui.acts import bindings_of
from tui.screens.animals.acts import AnimalsActs
from tui.screens.bases.text_screen import TextScreen
from tui.widgets.tank_view import tank_content


class TankScreen(AnimalsActs, TextScreen):
    """A tank, on top of the screen it was opened from."""

    place = "tank"
    subject = "a tank"
    BINDINGS: ClassVar[list[BindingType]] = [
        *bindings_of("tank"),
        *(Binding(str(number), f"serving({number})", show=False) for number in range(2, 10)),
    ]

    def __init__(self, session: Session, tank: str) -> None:
        super().__init__(session)
        self._tank = tank

    @property
    def current_tank(self) -> str | None:
        """The tank shown."""
        return self._tank

    def lines(self, width: int) -> Iterable[Content]:
        """The tank's life; that it is gone, where the room file was changed meanwhile."""
        tank = self.session.room.tanks.get(self._tank)
        if tank is None:
            return [Content(f"{self._tank} is no longer in the room file")]
        return [
            tank_content(
                self.session, tank, self.current_stop, self.session.flags_of(tank.id), width, self.key("for_young")
            )
        ]
