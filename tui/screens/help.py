"""What the words, signs and flags mean, and where a number comes from."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import ClassVar

from textual.binding import BindingType
from textual.content import Content

from schedules.wording.glossary import CAUTIONS, FLAG_MEANS, FLAG_NAMES, NUMBERS, PLAN_SIGNS, SIGNS, WORDS
from tui.acts import bindings_of
from tui.screens.bases.text_screen import TextScreen
from tui.widgets.cells import wrap


class HelpScreen(TextScreen):
    """The explanations, one below the other."""

    place = "help"
    subject = "what it means"
    BINDINGS: ClassVar[list[BindingType]] = [*bindings_of("help")]

    def lines(self, width: int) -> Iterable[Content]:
        """Words, signs, flags, numbers, cautions."""
        yield from _part("Words", WORDS, width)
        yield from _part("Signs", SIGNS, width)
        yield from _part("Signs of the plan", PLAN_SIGNS, width)
        flags = [(FLAG_NAMES[kind], text) for kind, text in FLAG_MEANS.items()]
        yield from _part("Flags", flags, width)
        yield from _part("Where a number comes from", NUMBERS, width)
        yield Content.styled(f"{self.key('reckon')} at a stop or a tank shows the arithmetic of an amount.", "$quiet")
        yield Content("")
        yield from _part("Cautions", [("", text) for text in CAUTIONS], width)


def _part(head: str, pairs: Iterable[tuple[str, str]], width: int) -> Iterator[Content]:
    yield Content.styled(head, "bold $primary")
    for word, text in pairs:
        first, *rest = wrap(f"{word}: {text}" if word else text, width - 4)
        cut = len(word) + 1 if word else 0
        yield Content.assemble("  ", (first[:cut], "bold"), first[cut:])
        yield from (Content(f"    {line}") for line in rest)
    yield Content("")
