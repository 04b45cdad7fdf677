"""The acts of a screen in its last line, each with its key; a tap does the act.

One widget that is drawn at once: Textual's own footer mounts a widget for each key, and again whenever the focus
moves, which a start and every screen that opens would wait for.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

from textual import events
from textual.content import Content
from textual.widgets import Static

from tui.acts import Act, Place, acts_of, key_text
from tui.widgets.cells import cells

GAP: Final = "  "
"""Between two acts: more than between a key and what it does, so that the line is read without its colours."""


class Footer(Static):
    """The acts whose footer entry names this screen, in the order they are declared in, under the keeper's own keys."""

    ALLOW_SELECT = False

    def __init__(self, place: Place, key_of: Callable[[str], str]) -> None:
        super().__init__(id="footer")
        self._key_of = key_of
        self._acts = tuple(act for act in acts_of(place) if place in act.footer)
        self._hovered: Act | None = None

    def on_mount(self) -> None:
        """Show the acts."""
        self._show()

    def _show(self) -> None:
        self.update(Content(GAP).join([self._shown(act) for act in self._acts]), layout=False)

    def _shown(self, act: Act) -> Content:
        ground = " on $block-hover-background" if act is self._hovered else ""
        key = (key_text(self._key_of(act.id)), f"bold $footer-key-foreground{ground}")
        return Content.assemble(key, (f" {act.label}", f"$footer-description-foreground{ground}"))

    def _act_at(self, x: int) -> Act | None:
        """The act that stands at a cell of the line, counted from 0; None between two acts and behind the last."""
        left = 0
        for act in self._acts:
            right = left + cells(self._shown(act).plain)
            if left <= x < right:
                return act
            left = right + len(GAP)
        return None

    def on_mouse_down(self, event: events.MouseDown) -> None:
        """Do the act that was tapped."""
        act = self._act_at(event.x)
        if act is not None:
            event.stop()
            self.call_later(self.screen.run_action, act.id)

    def on_mouse_move(self, event: events.MouseMove) -> None:
        """Tell what the act under the pointer does."""
        self._hover(self._act_at(event.x))

    def on_leave(self) -> None:
        """The pointer went elsewhere."""
        self._hover(None)

    def _hover(self, act: Act | None) -> None:
        if act is not self._hovered:
            self._hovered = act
            self.tooltip = act.help if act else None
            self._show()
