"""The keys of the current screen, what the words mean, and the cautions."""

from __future__ import annotations

from typing import ClassVar, Final

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical, VerticalScroll
from textual.content import Content
from textual.screen import ModalScreen
from textual.widgets import Static

from tui.acts import Place, acts_of, key_text

WORDS: Final = (
    ("share", "the part of a tank's daily ration that a serving takes; a full feeding day is 1"),
    ("hold back", "giving it now would break a rule: already given, a gap not over yet, or no ration left"),
    ("fine feed", "biofilm, powder, suspension; all others are solid"),
    ("beside powder", "solid food draws the adults away, so that the shrimplets get the powder"),
)
CAUTIONS: Final = (
    "Amounts are a plan: your eye at the tank decides. When in doubt give less.",
    "Mains and water: drip loops, dry hands, a residual-current device; a licensed electrician for anything fixed.",
    "Never release animals, plants or tank water into nature.",
)


class Keys(ModalScreen[None]):
    """The key list of one screen."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding(key, "close", "close", show=False) for key in ("escape", "f1", "enter", "space", "q")
    ]

    def __init__(self, place: Place) -> None:
        super().__init__()
        self._place = place

    def compose(self) -> ComposeResult:
        """Keys, words, cautions."""
        lines: list[Content] = [Content.styled("Keys", "bold")]
        lines += [Content.assemble((f" {key_text(act.key):<6}", "bold"), act.help) for act in acts_of(self._place)]
        lines += [Content(""), Content.styled("Words", "bold")]
        lines += [Content.assemble((f" {word}: ", "bold"), text) for word, text in WORDS]
        lines += [Content(""), Content.styled("Cautions", "bold")]
        lines += [Content(f" {text}") for text in CAUTIONS]
        with Vertical(id="dialog"), VerticalScroll(id="keyscroll"):
            yield Static(Content("\n").join(lines), id="keys")

    def action_close(self) -> None:
        """Go back."""
        self.dismiss(None)
