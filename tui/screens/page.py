"""What all full screens share: the bar, the line that tells what an act came to, the acts open everywhere."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar, cast

from textual.app import ComposeResult
from textual.content import Content
from textual.screen import Screen
from textual.widgets import Footer, Static

from tui.acts import Place
from tui.desk import Desk
from tui.screens.keys import Keys
from tui.widgets.bar import Bar

if TYPE_CHECKING:
    from tui.app import RackroundApp


class Page(Screen[None]):
    """A full screen on the desk."""

    place: ClassVar[Place]
    subject: ClassVar[str] = ""
    AUTO_FOCUS = None
    HORIZONTAL_BREAKPOINTS = [  # noqa: RUF012 (the base class declares it so)
        (0, "-narrow"),
        (76, "-usual"),
        (130, "-wide"),
    ]

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self.desk = desk

    @property
    def rackround(self) -> RackroundApp:
        """The app, by its own type."""
        return cast("RackroundApp", self.app)

    def compose(self) -> ComposeResult:
        """Bar, body, one line of news, keys."""
        yield Bar(self.desk, self.subject)
        yield from self.compose_body()
        yield Static(id="told")
        yield Footer(show_command_palette=False, compact=True)

    def compose_body(self) -> ComposeResult:
        """What lies between the bar and the news."""
        yield from ()

    def tell(self, text: str) -> None:
        """Say in one line what an act came to; it stays until the next."""
        self.query_one("#told", Static).update(Content(text))

    def catch_up(self, tanks: frozenset[str]) -> None:
        """Show what changed in these tanks; here only how far the round is."""
        if tanks:
            self.query_one(Bar).tell()

    def action_show_round(self) -> None:
        """Go to today's round."""
        self.rackround.show("round")

    def action_show_missed(self) -> None:
        """Go to what was missed."""
        self.rackround.show("missed")

    def action_show_flags(self) -> None:
        """Go to the flags."""
        self.rackround.show("flags")

    def action_show_plan(self) -> None:
        """Go to the plan."""
        self.rackround.show("plan")

    def action_keys(self) -> None:
        """Show all keys of this screen."""
        self.app.push_screen(Keys(self.place))

    def action_quit(self) -> None:
        """Close the program; everything is on disk already."""
        self.app.exit()
