"""The dashboard: a session, its screens, and a look now and then at what others wrote."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from importlib import import_module
from pathlib import Path
from time import monotonic
from typing import ClassVar, Final

from rich.text import Text
from textual.app import App, SystemCommand
from textual.binding import Binding, BindingType
from textual.events import Event
from textual.filter import LineFilter, Monochrome, NoColor
from textual.screen import Screen
from textual.theme import Theme

from schedules.formatting import clock_text
from schedules.room.water.quantities import Quantity
from schedules.session.room_watch import RoomWatch
from schedules.session.session import Session
from schedules.wording.outcomes import act_text
from tui.acts import BY_ID, Place, acts_of, key_text
from tui.garbage import go_on
from tui.keys_in_order import KeyDone, KeysInOrder, Typed
from tui.plan_process import Start
from tui.screens.bases.base_screen import BaseScreen
from tui.screens.dialogs.dialog import Dialog
from tui.terminal import call_on_signals
from tui.theme import CHOICE, DUSK, QUIET, THEMES
from tui.watch import LOOK_SECONDS, Watch
from tui.workers import SCREENS, Background

FIRST_PAINT: Final = 0.2
"""Seconds after which the first screen has its turn to be painted before anything is worked out beside it."""


class RackroundApp(App[None]):
    """The dashboard on one session.

    `keys` are the keeper's own keys by the names of acts, `theme` the name of the colours to start with, `room_file`
    the file to watch for changes, `coming` what plans the days after a day that was opened by itself, `tick` a clock in
    seconds that only goes forward.
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
        only_me: bool = False,
        tick: Callable[[], float] = monotonic,
    ) -> None:
        super().__init__()
        self.session = session
        self.only_me = only_me
        self._keys_in_order = KeysInOrder(self, tick)
        self.quantities: tuple[Quantity, ...] | None = None
        self._room_watch = RoomWatch(room_file)
        self._keys = dict(keys or {})
        for each in THEMES:
            self.register_theme(each)
        self.theme = theme if theme in self.available_themes else DUSK.name
        self.set_keymap(self._keys)
        self.background = Background(self, session, self.say)
        self.watch_over = Watch(self, self._room_watch, coming, self._refresh_bars)

    async def on_event(self, event: Event) -> None:
        """Let keys and pastes pass one after the other."""
        if not isinstance(event, Typed) or event.is_forwarded:
            await super().on_event(event)
        elif self._keys_in_order.may_pass(event):
            start = self.focused or self.screen
            await super().on_event(event)
            self._keys_in_order.follow(event, start)

    def on_key_done(self, done: KeyDone) -> None:
        """A key has done its work."""
        self._keys_in_order.came_back(done)

    @property
    def keys_wait(self) -> bool:
        """Whether any key that was pressed is not dealt with yet."""
        return self._keys_in_order.any_wait

    def tick(self) -> float:
        """When the present key was pressed, in seconds."""
        return self._keys_in_order.pressed_at

    def get_theme_variable_defaults(self) -> dict[str, str]:
        """The quiet colour, where the theme has none of its own."""
        return {"quiet": QUIET}

    def get_line_filters(self) -> Sequence[LineFilter]:
        """With NO_COLOR, what takes the colours away follows the present theme, not by the one at the start."""
        filters = super().get_line_filters()
        if not self.no_color:
            return filters
        others = [each for each in filters if not isinstance(each, NoColor | Monochrome)]
        return [*others, NoColor() if self.native_ansi_color else Monochrome()]

    def get_default_screen(self) -> Screen[None]:
        """The round is where everything starts and comes back to."""
        from tui.screens.round import RoundScreen

        return RoundScreen(self.session)

    def on_mount(self) -> None:
        """Look now and then at what changed; work out the flags once the round stands."""
        self.theme_changed_signal.subscribe(self, self._recolour)
        if not self.is_headless:
            call_on_signals(self.end)
        self.watch_over.begin()
        self.set_interval(LOOK_SECONDS, self.look)
        self.set_timer(FIRST_PAINT, self._painted)

    def _painted(self) -> None:
        go_on()
        self.background.start()

    def look(self) -> None:
        """Look at what may have changed, and work out the flags of the tanks where something was written."""
        self.watch_over.look()
        if self.background.is_wanted:
            self.background.start()

    def _refresh_bars(self) -> None:
        self.caught_up(frozenset())

    @property
    def notices(self) -> tuple[str, ...]:
        """What stays true until the keeper does something about it."""
        return self.watch_over.notices

    def _recolour(self, _theme: Theme) -> None:
        for screen in self.screen_stack:
            if isinstance(screen, BaseScreen) and screen.is_mounted:
                screen.recolour()

    def key_of(self, act: str) -> str:
        """The key of an act, as the keeper has it."""
        return self._keys.get(act) or BY_ID[act].key

    def get_key_display(self, binding: Binding) -> str:
        """A key in the footer, as it is printed on the keyboard."""
        return key_text(binding.key)

    def caught_up(self, tanks: frozenset[str], text: str = "") -> None:
        """Show what changed in these tanks on every screen that is there; a screen to come reads it by itself."""
        for screen in self.screen_stack:
            if isinstance(screen, BaseScreen) and screen.is_mounted:
                screen.catch_up(tanks)
        if text:
            self.say(text)

    def say(self, text: str) -> None:
        """Say something in one line on the full screen on top, whatever lies over it."""
        if self.screen_stack:
            self.page.say(text)

    @property
    def page(self) -> BaseScreen:
        """The full screen on top."""
        return next(screen for screen in reversed(self.screen_stack) if isinstance(screen, BaseScreen))

    def show(self, place: Place) -> None:
        """Go to a screen: the round at the bottom, one other on top of it at the most."""
        if self.page.place == place:
            return
        self._leave_all()
        if place != "round":
            module, name = SCREENS[place].split(":")
            self.push_screen(getattr(import_module(module), name)(self.session))

    def show_tank(self, tank: str) -> None:
        """Show one tank's life on top of the present screen."""
        from tui.screens.tank import TankScreen

        self.push_screen(TankScreen(self.session, tank))

    def show_changes(self, tank: str) -> None:
        """Show what was different in a tank on top of the present screen."""
        from tui.screens.animals.changes import ChangesScreen

        self.push_screen(ChangesScreen(self.session, tank))

    def show_counting(self, tank: str) -> None:
        """Count a tank's rack on top of the present screen."""
        from tui.screens.animals.counting import CountingScreen

        self.push_screen(CountingScreen(self.session, tank))

    def show_reading(self, tank: str) -> None:
        """Read the water of a tank's rack on top of the present screen."""
        from tui.screens.water.reading import ReadingScreen

        self.push_screen(ReadingScreen(self.session, tank, self.quantities or self.session.room.water.read))

    def show_water(self, tank: str) -> None:
        """Show one tank's water on top of the present screen."""
        from tui.screens.water.tank import TankWaterScreen

        self.push_screen(TankWaterScreen(self.session, tank))

    def show_stop(self, tank: str) -> None:
        """Go to a tank's stop in the round."""
        from tui.screens.round import RoundScreen

        self._leave_all()
        if isinstance(self.page, RoundScreen):
            self.page.go_to_tank(tank)

    def _leave_all(self) -> None:
        """Leave every screen but the round; boxes end without an answer, so that nothing waits for one."""
        while len(self.screen_stack) > 1:
            if isinstance(self.screen, Dialog):
                self.screen.dismiss(None)
            else:
                self.pop_screen()

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
        """Show what the room file changes, and offer to take it in."""
        from tui.screens.dialogs.changed_room import offer

        offer(self, self, self._room_watch)

    def open_round(self) -> None:
        """Show the session's round from its first open stop on, whatever else is on the screen."""
        from tui.screens.round import RoundScreen

        self._leave_all()
        if isinstance(self.page, RoundScreen):
            self.page.open_round()
        self.background.start()
        self.watch_over.day_opened()
        self.watch_over.plan_coming_days()

    def leave_unsaved(self, code: int = 2) -> None:
        """Close, and print the marks that are not saved."""
        zone = self.session.room.zone
        session = self.session
        lines = [
            f"  {clock_text(act.at, zone)} {act_text(session.room, act, session.doses)}" for act in session.unsaved.acts
        ]
        kept = " They are kept on this machine; the next dashboard on this ledger tries them again."
        head = f"These marks are NOT in the ledger yet.{kept if session.unsaved.outlast else ''}"
        self.exit(return_code=code, message=Text("\n".join([head, *lines])))

    def end(self, code: int) -> None:
        """Close at once with an exit code, because of a signal or a lost terminal."""
        if self.session.unsaved:
            self.leave_unsaved(code)
        else:
            self.exit(return_code=code)

    def action_command_palette(self) -> None:
        """Find an act by its name."""
        from tui.screens.dialogs.palette import Palette

        if not isinstance(self.screen, Palette):
            self.push_screen(Palette(id="--command-palette"))

    async def action_quit_gently(self) -> None:
        """Close as the page would."""
        await self.page.run_action("quit")

    def get_system_commands(self, screen: Screen[object]) -> Iterable[SystemCommand]:
        """The acts of the current screen for the command palette, in words; the framework's own are left out."""
        if isinstance(screen, BaseScreen):
            for act in acts_of(screen.place):
                yield SystemCommand(act.help, f"key {key_text(self.key_of(act.id))}", self._doing(screen, act.id))

    def _doing(self, screen: BaseScreen, act: str) -> Callable[[], None]:
        def do() -> None:
            self.call_later(screen.run_action, act)

        return do
