"""Before the dashboard can open: a faulty room file, a ledger that cannot be read, or no room file at all."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING, ClassVar, Final, Generic, Literal, TypeVar

from textual.app import App, ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.content import Content
from textual.widgets import Footer, OptionList, Static
from textual.widgets.option_list import Option

from schedules.ledger import LedgerFault, LostEnd
from tui.terminal import call_on_signals, leave_with
from tui.theme import DUSK, QUIET, THEMES
from tui.widgets.cells import wrap

if TYPE_CHECKING:
    from schedules.room_file import RoomFileFaults

Opened = TypeVar("Opened")
AGAIN_SECONDS: Final = 2.0
"""How often opening is tried again by itself: a corrected file or a freed ledger opens without a key."""
FIRST_LINES: Final = (
    "A room file says what tanks there are, what lives in them and what feeds are in stock.",
    "The demo opens an invented room of 48 tanks with a past of 60 days; nothing of it is kept.",
    "The starter writes a first room file with comments, to fill in with your own tanks and feeds.",
)
First = Literal["demo", "starter"]


class _StartUp(App[Opened], Generic[Opened]):
    """What both doors share: the colours."""

    CSS = """
    Screen { background: $background; color: $foreground; }
    #title { height: auto; padding: 1 2 0 2; text-style: bold; color: $primary; }
    #lines { height: auto; padding: 0 2; }
    #way { height: auto; padding: 1 2; color: $quiet; }
    VerticalScroll { height: 1fr; scrollbar-size-vertical: 1; }
    OptionList { height: auto; border: none; margin: 1 2; background: $background; }
    Footer { background: $panel; }
    """
    ENABLE_COMMAND_PALETTE = False

    def __init__(self) -> None:
        super().__init__()
        for theme in THEMES:
            self.register_theme(theme)
        self.theme = DUSK.name

    def on_ready(self) -> None:
        """From now on a signal that asks to end leaves the terminal usable."""
        if not self.is_headless:
            call_on_signals(lambda code: self.exit(return_code=code))

    def get_theme_variable_defaults(self) -> dict[str, str]:
        """The quiet colour, where the theme has none of its own."""
        return {"quiet": QUIET}


class FaultStartUp(_StartUp[Opened]):
    """Shows why opening failed and tries it again; ends with what was opened, or None."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("r", "again", "try again"),
        Binding("a", "accept", "go on without them"),
        Binding("q", "leave", "close"),
        Binding("ctrl+q", "leave", "close", show=False, priority=True),
    ]

    def __init__(
        self,
        opening: Callable[[], Opened],
        fault: RoomFileFaults | LedgerFault,
        accept_loss: Callable[[], object] | None = None,
    ) -> None:
        """`accept_loss` acknowledges that the ledger lost its end; until then it stays on the screen."""
        super().__init__()
        self._opening = opening
        self._accept_loss = accept_loss
        self.fault = fault

    def compose(self) -> ComposeResult:
        """Title, what is wrong, the way out."""
        yield Static(id="title")
        with VerticalScroll():
            yield Static(id="lines")
        yield Static(id="way")
        yield Footer(show_command_palette=False, compact=True)

    def on_mount(self) -> None:
        """Show the fault, and try again now and then."""
        self._show()
        self.set_interval(AGAIN_SECONDS, self.action_again)

    def on_resize(self) -> None:
        """Wrap to the new width."""
        self._show()

    def _show(self) -> None:
        title, lines, way = fault_text(self.fault)
        width = max(16, self.size.width - 5)
        self.query_one("#title", Static).update(Content(title))
        wrapped = [Content(part) for line in lines for part in wrap(line, width)]
        self.query_one("#lines", Static).update(Content("\n").join(wrapped))
        self.query_one("#way", Static).update(Content(way))

    def action_again(self) -> None:
        """Try to open again."""
        try:
            opened = self._opening()
        except Exception as error:
            fault = _known(error)
            if str(fault) != str(self.fault):
                self.fault = fault
                self._show()
                self.refresh_bindings()
            return
        self.exit(opened)

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """A loss can be acknowledged only where there is one."""
        if action == "accept":
            return isinstance(self.fault, LostEnd) and self._accept_loss is not None
        return super().check_action(action, parameters)

    def action_accept(self) -> None:
        """Go on with the ledger as it is, although its end is lost."""
        try:
            if self._accept_loss is not None:
                self._accept_loss()
        except LedgerFault as fault:
            self.fault = fault
            self._show()
            return
        self.action_again()

    def action_leave(self) -> None:
        """Give up."""
        self.exit(None)


def fault_text(fault: RoomFileFaults | LedgerFault) -> tuple[str, Sequence[str], str]:
    """A title, what is wrong line by line, and the way out."""
    if not isinstance(fault, LedgerFault):
        lines = fault.lines()
        count = "a fault" if len(lines) == 1 else f"{len(lines)} faults"
        way = "Correct the file and save it: the round opens by itself. The ledger is not touched."
        return f"The room file has {count}", lines, way
    if isinstance(fault, LostEnd):
        way = (
            "Put the whole file back and the round opens by itself. a goes on without what is missing; what is left of "
            "the damaged file stays beside it for a repair."
        )
        return "The end of the ledger is missing", [str(fault)], way
    way = "As soon as the ledger can be opened again, the round opens by itself. What was marked before is in it."
    return "The ledger cannot be opened", [str(fault)], way


def wait_until_open(
    opening: Callable[[], Opened], error: Exception, accept_loss: Callable[[], object] | None = None
) -> Opened:
    """What `opening` opens after it failed with `error`: the screen stays until it works.

    Raises the last fault if the keeper gives up, and an error that the screen cannot show, at once.
    """
    screen: FaultStartUp[Opened] = FaultStartUp(opening, _known(error), accept_loss)
    opened = screen.run()
    leave_with(screen.return_code)
    if opened is None:
        raise screen.fault from None
    return opened


def _known(error: Exception) -> RoomFileFaults | LedgerFault:
    """The error as one that the screen can show; any other is raised again."""
    if isinstance(error, LedgerFault):
        return error
    # Imported here and not above: a sound room that was kept opens without what reads room files.
    from schedules.room_file import RoomFileFaults

    if isinstance(error, RoomFileFaults):
        return error
    raise error


class FirstStartUp(_StartUp[First]):
    """No room file was named: offers the demo or a starter; ends with the choice, or None."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("d", "take('demo')", "demo"),
        Binding("s", "take('starter')", "starter"),
        Binding("q", "leave", "close"),
        Binding("escape", "leave", "close", show=False),
        Binding("ctrl+q", "leave", "close", show=False, priority=True),
    ]

    def compose(self) -> ComposeResult:
        """Three lines and two choices."""
        yield Static(Content("Rackround: the morning round of a shrimp room"), id="title")
        yield Static(Content("\n".join(FIRST_LINES)), id="lines")
        yield OptionList(
            Option(Content("d  open the demo"), id="demo"),
            Option(Content("s  write a starter room file"), id="starter"),
        )
        yield Static(Content("To open your own room: rackround ROOM.toml"), id="way")
        yield Footer(show_command_palette=False, compact=True)

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """Take it by Enter or a tap."""
        self.exit("demo" if event.option_id == "demo" else "starter")

    def action_take(self, choice: First) -> None:
        """Take it by its letter."""
        self.exit(choice)

    def action_leave(self) -> None:
        """Take none."""
        self.exit(None)


def ask_first() -> First | None:
    """What to begin with where no room file is named: the demo, a starter, or nothing."""
    screen = FirstStartUp()
    choice = screen.run()
    leave_with(screen.return_code)
    return choice
