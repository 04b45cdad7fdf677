"""The keys of the current screen: read them, or pick an act by Enter or a tap."""

from __future__ import annotations

from collections.abc import Callable
from typing import ClassVar, Final

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.content import Content
from textual.widgets import OptionList, Static
from textual.widgets.option_list import Option

from tui.acts import Place, acts_of, key_text
from tui.screens.dialogs.dialog import Dialog, list_height

HINT: Final = "enter or a tap does it; esc closes; F3 or ctrl+p finds an act by its name"


class Keys(Dialog[str | None]):
    """The acts of one screen with their keys; ends with the name of the act picked, or None."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding(key, "close", "close", show=False) for key in ("escape", "f1", "q")
    ]

    def __init__(self, place: Place, key_of: Callable[[str], str]) -> None:
        super().__init__()
        self._place = place
        self._key_of = key_of

    def compose(self) -> ComposeResult:
        """The acts, and how to get out."""
        acts = [act for act in acts_of(self._place) if act.id != "keys"]
        lines = (Content.assemble((f"{key_text(self._key_of(act.id)):<7}", "bold"), act.help) for act in acts)
        with Vertical(id="dialog"):
            yield Static(Content("Keys"), id="title")
            options = OptionList(*(Option(line, id=act.id) for line, act in zip(lines, acts, strict=True)), id="keys")
            options.styles.max_height = list_height(*self.app.size, "Keys", HINT)
            yield options
            yield Static(Content(HINT), id="hint")

    def on_mount(self) -> None:
        """Nothing is highlighted yet, so that Enter out of habit does nothing."""
        self.call_after_refresh(self._highlight_none)

    def _highlight_none(self) -> None:
        for options in self.query(OptionList):  # none where the box was closed before it was painted
            options.highlighted = None

    def action_close(self) -> None:
        """Pick nothing."""
        self.finish(None)

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """Do this act."""
        self.finish(event.option_id)
