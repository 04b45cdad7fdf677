"""What all full screens share: the bar, the line that says what an act came to, the acts open everywhere."""

from __future__ import annotations

from collections.abc import Sequence
from typing import ClassVar, cast

from textual import work
from textual.app import ComposeResult
from textual.content import Content
from textual.screen import Screen
from textual.widgets import Input, Static

from schedules.session.session import Session
from tui.acts import Place, acts_of, key_text
from tui.screens.dashboard import Dashboard
from tui.screens.dialogs.choose import Choose
from tui.screens.opening import Opening
from tui.widgets.bar import Bar
from tui.widgets.cells import cells, cut, wrap
from tui.widgets.footer import Footer


class BaseScreen(Opening[None]):
    """A full screen on the session."""

    place: ClassVar[Place]
    subject: ClassVar[str] = ""
    AUTO_FOCUS = None

    def __init__(self, session: Session) -> None:
        super().__init__()
        self.session = session
        self._said = ("", "")

    @property
    def rackround(self) -> Dashboard:
        """The dashboard that this screen is shown in."""
        return cast(Dashboard, self.app)

    def compose(self) -> ComposeResult:
        """Bar, body, one line of news, keys."""
        yield Bar(self.session, self.subject, self.key("show_round"), self._notices)
        yield from self.compose_body()
        yield Static(self._message(), id="message")
        yield Footer(self.place, self.rackround.key_of)

    def compose_body(self) -> ComposeResult:
        """What lies between the bar and the news."""
        yield from ()

    def on_resize(self) -> None:
        """Fill the bar and the news to the new width."""
        self.query_one(Bar).show()
        self.say(*self._said)

    def say(self, text: str, way_back: str = "") -> None:
        """Say in one line what an act came to, and the way back, which is never cut; it stays until the next."""
        self._said = (text, way_back)
        if self.is_mounted:
            self.query_one("#message", Static).update(self._message(), layout=False)

    def _message(self) -> Content:
        text, way_back = self._said
        back = f" · {way_back}" if way_back else ""
        across = self.app.size.width - 2
        if cells(text) + cells(back) > across:
            back = f" · {self.key('message')}: all"
        line = cut(text, max(8, across - cells(back)))
        return Content.assemble(line, (back, "bold"))

    def _notices(self) -> Sequence[str]:
        return self.rackround.notices

    def key(self, act: str) -> str:
        """The key of an act, as the keeper has it."""
        return key_text(self.rackround.key_of(act))

    def entered(self) -> None:
        """Do the act that has the Enter key here; lists keep the key itself to themselves."""
        for act in acts_of(self.place):
            if "enter" in self.rackround.key_of(act.id).split(","):
                self.call_later(self.run_action, act.id)

    def catch_up(self, tanks: frozenset[str]) -> None:  # noqa: ARG002 (some screens use it)
        """Show what changed in these tanks; here only how far the round is."""
        self.query_one(Bar).show()

    def recolour(self) -> None:
        """Draw again what holds colours of its own."""

    def action_show_round(self) -> None:
        """Go to today's round."""
        self.rackround.show("round")

    def action_show_prepare(self) -> None:
        """Go to what is prepared before the round."""
        self.rackround.show("prepare")

    def action_show_lookback(self) -> None:
        """Go to the tanks to check for leftovers."""
        self.rackround.show("lookback")

    def action_show_missed(self) -> None:
        """Go to what was missed."""
        self.rackround.show("missed")

    def action_show_flags(self) -> None:
        """Go to the flags."""
        self.rackround.show("flags")

    def action_show_plan(self) -> None:
        """Go to the plan."""
        self.rackround.show("plan")

    def action_show_expected(self) -> None:
        """Go to the hatches that are expected."""
        self.rackround.show("expected")

    def action_show_survival(self) -> None:
        """Go to what became of each hatch."""
        self.rackround.show("survival")

    def action_show_away(self) -> None:
        """Go to a helper's sheet."""
        self.rackround.show("away")

    def action_show_lines(self) -> None:
        """Go to what each line did in a year."""
        self.rackround.show("lines")

    def action_show_stock(self) -> None:
        """Go to the shelf."""
        self.rackround.show("stock")

    def action_show_water(self) -> None:
        """Go to the water of every tank."""
        self.rackround.show("water")

    def action_show_room(self) -> None:
        """Go to the racks."""
        self.rackround.show("room")

    def action_show_help(self) -> None:
        """Go to the explanations."""
        self.rackround.show("help")

    def action_back(self) -> None:
        """Go back to where the keeper came from, unless this screen is left already."""
        if self.is_active:
            self.rackround.back()

    def action_colours(self) -> None:
        """Take other colours."""
        self.say(f"colours: {self.rackround.next_theme()}")

    def action_message(self) -> None:
        """Show the whole of the line at the bottom."""
        from tui.screens.dialogs.text_dialog import TextDialog, text_width

        text, way_back = self._said
        parts = [part for part in (text or "nothing was said yet", way_back) if part]
        lines = [Content(line) for part in parts for line in wrap(part, text_width(self.app.size.width))]
        self.app.push_screen(TextDialog("The line at the bottom", lines))

    @work
    async def action_keeper(self) -> None:
        """Let another keeper act from now on, or on a day away the helper."""
        if self.rackround.only_me:
            self.say(f"{self.session.by} acts here, and nobody else; another keeper logs in for a round of their own")
            return
        names = [keeper.name for keeper in self.session.room.keepers]
        helper = self.session.history.leave.get(self.session.day)
        if helper is not None and helper.helper not in names:
            names.append(helper.helper)
        if len(names) < 2:
            self.say("the room file names no other keeper")
            return
        now = names.index(self.session.by) if self.session.by in names else 0
        picked = await self.app.push_screen_wait(Choose("Who is here?", names, start=now))
        if picked is not None:
            self.session.by = names[picked]
            self.rackround.caught_up(frozenset(), f"{names[picked]} acts from now on")

    def action_reread(self) -> None:
        """Take in the changed room file."""
        self.rackround.offer_room()

    @work
    async def action_keys(self) -> None:
        """Show all keys of this screen; the act picked there is done."""
        from tui.screens.dialogs.keys import Keys

        act = await self.app.push_screen_wait(Keys(self.place, self.rackround.key_of))
        if act is not None:
            await self.run_action(act)

    async def _loses_text(self) -> bool:
        """Whether to close although a text was begun, which would be lost."""
        options = ("stay", "close the program")
        return await self.app.push_screen_wait(Choose("A text is not finished. Close the program?", options)) == 1

    @work
    async def action_quit(self) -> None:
        """Close the program; where marks are not saved yet, ask first."""
        if not self.session.unsaved:
            if not text_begun(self.app.screen) or await self._loses_text():
                self.app.exit()
            return
        title = f"{len(self.session.unsaved)} marks are not saved yet"
        close = "close, and print them so that they can be written down"
        if self.session.unsaved.outlast:
            close = "close, they are kept on this machine until they can be saved"
        options = ("stay, they are tried again", close)
        if await self.app.push_screen_wait(Choose(title, options)) == 1:
            self.rackround.leave_unsaved()


def text_begun(screen: Screen[object]) -> bool:
    """Whether something was typed into a box that is open."""
    return any(box.value.strip() for box in screen.query(Input))
