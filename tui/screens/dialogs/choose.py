"""A short list to pick from: a digit, Enter, a tap, or Escape for none."""

from __future__ import annotations

from collections.abc import Sequence
from typing import ClassVar, Final, cast

from textual import events
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.content import Content
from textual.widgets import OptionList, Static
from textual.widgets.option_list import Option

from tui.screens.dashboard import HELD_SECONDS, Dashboard
from tui.screens.dialogs.dialog import Dialog, list_height

DIGITS: Final = 9


class Choose(Dialog[int | None]):
    """Shows a title and numbered options; ends with the number of the one picked, counted from 0, or None.

    `start` is the option that Enter picks at first. `again` are the keys that led here, separated by commas: pressed
    once more, they pick like Enter; held down, they pick nothing.
    """

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "none", "none of these"),
        *(Binding(str(number), f"pick({number - 1})", show=False) for number in range(1, DIGITS + 1)),
    ]

    def __init__(self, title: str, options: Sequence[str], hint: str = "", start: int = 0, again: str = "") -> None:
        super().__init__()
        self._title = title
        self._options = options
        self._start = start
        self._again = again.split(",")
        self._pressed_at = self._tick() if again else 0.0
        self._hint = hint or "a digit or enter picks; esc for none"

    def compose(self) -> ComposeResult:
        """The title, the options, a hint."""
        with Vertical(id="dialog"):
            yield Static(Content(self._title), id="title")
            numbered = (f"{n}  {text}" if n <= DIGITS else f"   {text}" for n, text in enumerate(self._options, 1))
            options = OptionList(*(Option(Content(text)) for text in numbered))
            options.styles.max_height = list_height(*self.app.size, self._title, self._hint)
            yield options
            yield Static(Content(self._hint), id="hint")

    def on_mount(self) -> None:
        """Start at the option that is meant most often."""
        self.query_one(OptionList).highlighted = min(self._start, len(self._options) - 1)

    def _tick(self) -> float:
        return cast(Dashboard, self.app).tick()

    def on_key(self, event: events.Key) -> None:
        """Pick like Enter by the key that led here, once it was let go in between."""
        if event.key in self._again:
            event.stop()
            before, self._pressed_at = self._pressed_at, self._tick()
            if self._pressed_at - before >= HELD_SECONDS:
                self.query_one(OptionList).action_select()

    def action_pick(self, number: int) -> None:
        """Pick by digit."""
        if number < len(self._options):
            self.finish(number)

    def action_none(self) -> None:
        """Pick nothing."""
        self.finish(None)

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """Pick by Enter or a tap."""
        self.finish(event.option_index)
