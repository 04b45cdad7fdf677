"""The keys of the current screen: read them, or pick an act by Enter or a tap."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import ClassVar, Final

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.content import Content
from textual.widgets import OptionList, Static
from textual.widgets.option_list import Option

from tui.acts import SUBJECTS, Place, key_text
from tui.screens.dialogs.dialog import Dialog, list_height

HINT: Final = "enter or a tap does it; esc closes; F3 or ctrl+p finds an act by its name"


class Keys(Dialog[str | None]):
    """The acts of one screen by subject, with their keys; ends with the name of the act picked, or None."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding(key, "close", "close", show=False) for key in ("escape", "f1", "q")
    ]

    def __init__(self, place: Place, key_of: Callable[[str], str]) -> None:
        super().__init__()
        self._place = place
        self._key_of = key_of

    def compose(self) -> ComposeResult:
        """The acts, and how to get out."""
        with Vertical(id="dialog"):
            yield Static(Content("Keys"), id="title")
            options = OptionList(*self._options(), id="keys")
            options.styles.max_height = list_height(*self.app.size, "Keys", HINT)
            yield options
            yield Static(Content(HINT), id="hint")

    def _options(self) -> Iterator[Option]:
        """Each subject as a heading that cannot be picked, and below it its acts on this screen."""
        for subject, acts in SUBJECTS:
            here = [act for act in acts if self._place in act.places and act.id != "keys"]
            if here:
                yield Option(Content.styled(subject, "$quiet"), disabled=True)
            for act in here:
                line = Content.assemble((f"{key_text(self._key_of(act.id)):<7}", "bold"), act.help)
                yield Option(line, id=act.id)

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
