"""The dashboard: a session, its screens, and a look now and then at what others wrote."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from importlib import import_module
from pathlib import Path
from typing import ClassVar, Final

from rich.text import Text
from textual.app import App, SystemCommand
from textual.binding import Binding, BindingType
from textual.filter import LineFilter, Monochrome, NoColor
from textual.screen import Screen
from textual.theme import Theme

from schedules.formatting import clock_text
from schedules.ledger import LedgerFault
from schedules.session.outcome import Outcome
from schedules.session.room_watch import RoomWatch
from schedules.session.session import Session
from schedules.wording.entries import marked_text
from schedules.wording.outcomes import act_text, outcome_text
from tui.acts import BY_ID, Place, acts_of, key_text
from tui.plan_process import PlanProcess, Start
from tui.screens.page import Page
from tui.terminal import call_on_signals
from tui.theme import CHOICE, DUSK, QUIET, THEMES
from tui.widgets.cells import short
from tui.workers import SCREENS, Background

LOOK_SECONDS: Final = 1.5
"""How often to look whether somebody else wrote or the room file changed, and to try again what is unsaved."""
NAME: Final = 30
"""Cells of a feed's name in the line that says what an act came to."""
FIRST_PAINT: Final = 0.2
"""Seconds after which the first screen has its turn to be painted before anything is worked out beside it."""

AGAIN_EVERY: Final = 3
"""At every third look what is unsaved is tried again: a locked ledger is waited for, and keys wait with it."""


class RackroundApp(App[None]):
    """The dashboard on one session.

    `keys` are the keeper's own keys by the names of acts, `theme` the name of the colours to start with, `room_file`
    the file to watch for changes, `coming` what plans the days after a day that was opened by itself.
    """

    CSS_PATH = "rackround.tcss"
    TITLE = "Rackround"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("ctrl+q", "quit_gently", "quit", show=False, priority=True),
        Binding("f3,ctrl+p", "command_palette", "acts", show=False, priority=True),
    ]

    def __init__(
        self,
        session: Session,
        *,
        keys: Mapping[str, str] | None = None,
        theme: str = DUSK.name,
        room_file: Path | None = None,
        coming: Start | None = None,
    ) -> None:
        super().__init__()
        self._start_coming = coming
        self._coming: PlanProcess | None = None
        self.session = session
        self.room_watch = RoomWatch(room_file)
        self._keys = dict(keys or {})
        self._looks = 0
        for each in THEMES:
            self.register_theme(each)
        self.theme = theme if theme in self.available_themes else DUSK.name
        self.set_keymap(self._keys)

    def get_theme_variable_defaults(self) -> dict[str, str]:
        """The quiet colour, where the theme has none of its own."""
        return {"quiet": QUIET}

    def get_line_filters(self) -> Sequence[LineFilter]:
        """With NO_COLOR, what takes the colours away goes by the present theme, not by the one at the start."""
        filters = super().get_line_filters()
        if not self.no_color:
            return filters
        others = [each for each in filters if not isinstance(each, NoColor | Monochrome)]
        return [*others, NoColor() if self.native_ansi_color else Monochrome()]

    def get_default_screen(self) -> Screen[None]:
        """The round is where everything starts and comes back to."""
        from tui.screens.round import RoundScreen

        return RoundScreen(self.session)

    def on_load(self) -> None:
        """End with a sane terminal when a signal asks for it."""
        if not self.is_headless:
            call_on_signals(self.end)

    def on_mount(self) -> None:
        """Look now and then at what changed; work out the flags once the round stands."""
        self.set_interval(LOOK_SECONDS, self.look)
        self.theme_changed_signal.subscribe(self, self._recolour)
        self.background = Background(self)
        self.set_timer(FIRST_PAINT, self.background.start)

    def _plan_coming_days(self) -> None:
        """Have the days after today planned beside the round, where today alone was."""
        if self._start_coming is None or self._coming is not None or self.session.knows_coming_days:
            return
        self._coming = self._start_coming(self.session.clock())
        self.page.tell("Today's round stands; the coming weeks are being planned beside it")

    def _hear_of_coming_days(self) -> None:
        """Tell when the coming days are planned, or why they could not be: the next start tries again."""
        fault = None if self._coming is None else self._coming.fault()
        if fault is None:
            return
        self._coming = None
        self.page.tell(f"The coming weeks could not be planned: {fault}" if fault else "The coming weeks are planned")

    def _recolour(self, _theme: Theme) -> None:
        for screen in self.screen_stack:
            if isinstance(screen, Page):
                screen.recolour()

    def key_of(self, act: str) -> str:
        """The key of an act, as the keeper has it."""
        return self._keys.get(act) or BY_ID[act].key

    def get_key_display(self, binding: Binding) -> str:
        """A key in the footer, as it is printed on the keyboard."""
        return key_text(binding.key)

    def look(self) -> None:
        """Save what is unsaved, show what others wrote, tell of a changed room file; each screen keeps its place."""
        self._looks += 1
        try:
            saved = self.session.save_again() if self._looks % AGAIN_EVERY == 0 else None
            if saved is not None:
                self.caught_up(saved.tanks, self.outcome_text(saved))
            elif self.session.ledger.changed():
                self.caught_up(self.session.catch_up(), self._news())
        except LedgerFault as fault:
            self.page.tell(self._fault_text(fault))
        if self._looks == 1:
            self._plan_coming_days()
        self._hear_of_coming_days()
        if self.background.done and self.session.flags_to_find:
            self.background.start()  # of the tanks where something was written, before a screen asks for them
        if self.room_watch.changed():
            self.page.tell(f"The room file was changed: {key_text(self.key_of('reread'))} shows what that changes")
        if self.session.new_day:
            self.page.catch_up(frozenset())

    def outcome_text(self, outcome: Outcome) -> str:
        """What an act came to, in one line, its feeds' names short so that the reason stays in view."""
        session = self.session
        return outcome_text(session.room, outcome, session.doses, lambda name: short(name, NAME))

    def _fault_text(self, fault: LedgerFault) -> str:
        waits = len(self.session.unsaved)
        return f"{waits} NOT SAVED YET, tried again every few seconds. {fault}" if waits else str(fault)

    def _news(self) -> str:
        """What somebody else did, in one line."""
        news = [
            f"{entry.by or 'the program'}: {marked_text(self.session.room, entry)}" for entry in self.session.news[-1:]
        ]
        more = len(self.session.news) - 1
        return "".join(news) + (f", and {more} more" if more > 0 else "")

    def caught_up(self, tanks: frozenset[str], text: str = "") -> None:
        """Show what changed in these tanks on every screen."""
        for screen in self.screen_stack:
            if isinstance(screen, Page):
                screen.catch_up(tanks)
        if text:
            self.page.tell(text)

    @property
    def page(self) -> Page:
        """The full screen on top."""
        return next(screen for screen in reversed(self.screen_stack) if isinstance(screen, Page))

    def show(self, place: Place) -> None:
        """Go to a screen: the round at the bottom, one other on top of it at the most."""
        if self.page.place == place:
            return
        while len(self.screen_stack) > 1:
            self.pop_screen()
        if place != "round":
            module, name = SCREENS[place].split(":")
            self.push_screen(getattr(import_module(module), name)(self.session))

    def show_tank(self, tank: str) -> None:
        """Show one tank's life on top of the present screen."""
        from tui.screens.tank import TankScreen

        self.push_screen(TankScreen(self.session, tank))

    def show_stop(self, tank: str) -> None:
        """Go to a tank's stop in the round."""
        from tui.screens.round import RoundScreen

        while len(self.screen_stack) > 1:
            self.pop_screen()
        if isinstance(self.page, RoundScreen):
            self.page.go_to_tank(tank)

    def back(self) -> None:
        """Leave the present screen; the round stays."""
        if len(self.screen_stack) > 1:
            self.pop_screen()

    def next_theme(self) -> str:
        """Take the next colours in turn; their name in words."""
        names = list(CHOICE)
        self.theme = names[(names.index(self.theme) + 1) % len(names)] if self.theme in names else names[0]
        return CHOICE[self.theme]

    def offer_room(self) -> None:
        """Check the changed room file and offer to take it in."""
        from tui.screens.changed import offer

        self.run_worker(offer(self), exclusive=True, group="room file")

    def open_round(self) -> None:
        """Show the session's round from its first open stop on, whatever else is on the screen."""
        from tui.screens.round import RoundScreen

        while len(self.screen_stack) > 1:
            self.pop_screen()
        if isinstance(self.page, RoundScreen):
            self.page.open_round()
        self.background.start()
        self._plan_coming_days()

    def leave_unsaved(self, code: int = 2) -> None:
        """Close, and print the marks that are not saved."""
        zone = self.session.room.zone
        session = self.session
        lines = [
            f"  {clock_text(act.at, zone)} {act_text(session.room, act, session.doses)}" for act in session.unsaved.acts
        ]
        self.exit(return_code=code, message=Text("\n".join(["These marks are NOT in the ledger:", *lines])))

    def end(self, code: int) -> None:
        """Close at once with an exit code, because of a signal or a lost terminal."""
        if self.session.unsaved:
            self.leave_unsaved(code)
        else:
            self.exit(return_code=code)

    async def action_quit_gently(self) -> None:
        """Close as the page would."""
        await self.page.run_action("quit")

    def get_system_commands(self, screen: Screen[object]) -> Iterable[SystemCommand]:
        """The acts of the current screen in the command palette, then the usual ones."""
        if isinstance(screen, Page):
            for act in acts_of(screen.place):
                title = f"{act.label}: {key_text(self.key_of(act.id))}"
                yield SystemCommand(title, act.help, self._doing(screen, act.id))
        yield from super().get_system_commands(screen)

    def _doing(self, screen: Page, act: str) -> Callable[[], None]:
        def do() -> None:
            self.call_later(screen.run_action, act)

        return do
