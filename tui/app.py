"""The dashboard: a desk, its screens, and a look now and then at what others wrote."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import ClassVar, Final

from textual.app import App, SystemCommand
from textual.binding import Binding, BindingType
from textual.screen import Screen

from schedules.ledger import LedgerFault
from tui.acts import Place, acts_of
from tui.desk import Desk
from tui.screens.page import Page
from tui.theme import DUSK, THEMES

LOOK_SECONDS: Final = 1.5
"""How often the ledger is asked whether somebody else wrote."""


class RackroundApp(App[None]):
    """The dashboard on one desk."""

    CSS_PATH = "rackround.tcss"
    TITLE = "Rackround"
    BINDINGS: ClassVar[list[BindingType]] = [Binding("ctrl+q", "quit", "quit", show=False)]

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self.desk = desk
        for theme in THEMES:
            self.register_theme(theme)
        self.theme = DUSK.name

    def get_default_screen(self) -> Screen[None]:
        """The round is where everything starts and comes back to."""
        from tui.screens.round import RoundScreen

        return RoundScreen(self.desk)

    def on_mount(self) -> None:
        """Look now and then whether somebody else wrote."""
        self.set_interval(LOOK_SECONDS, self.look)

    def look(self) -> None:
        """Show what others wrote, each screen keeping its place."""
        try:
            if not self.desk.ledger.changed():
                return
            tanks = self.desk.catch_up()
        except LedgerFault as fault:
            self._page().tell(str(fault))
            return
        if tanks:
            for screen in self.screen_stack:
                if isinstance(screen, Page):
                    screen.catch_up(tanks)

    def _page(self) -> Page:
        return next(screen for screen in reversed(self.screen_stack) if isinstance(screen, Page))

    def show(self, place: Place) -> None:
        """Go to a screen: the round at the bottom, one other on top of it at the most."""
        if self._page().place == place:
            return
        while len(self.screen_stack) > 1:
            self.pop_screen()
        if place != "round":
            self.push_screen(SCREENS[place]()(self.desk))

    def get_system_commands(self, screen: Screen[object]) -> Iterable[SystemCommand]:
        """The acts of the current screen in the command palette, then the usual ones."""
        if isinstance(screen, Page):
            for act in acts_of(screen.place):
                yield SystemCommand(f"{act.label}: {act.key}", act.help, self._doing(screen, act.id))
        yield from super().get_system_commands(screen)

    def _doing(self, screen: Page, act: str) -> Callable[[], None]:
        def do() -> None:
            self.call_later(screen.run_action, act)

        return do


def _missed() -> type[Page]:
    from tui.screens.missed import MissedScreen

    return MissedScreen


def _flags() -> type[Page]:
    from tui.screens.flags import FlagsScreen

    return FlagsScreen


def _plan() -> type[Page]:
    from tui.screens.plan import PlanScreen

    return PlanScreen


SCREENS: Final[dict[Place, Callable[[], type[Page]]]] = {"missed": _missed, "flags": _flags, "plan": _plan}
"""Screens are imported when first shown, so that the round is on the screen sooner."""
