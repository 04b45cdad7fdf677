"""A text of lines in a place of fixed size: another text is drawn without a new layout of the screen."""

from __future__ import annotations

from typing import Final

from textual import events
from textual.content import Content
from textual.strip import Strip
from textual.visual import Visual
from textual.widget import Widget

MORE: Final = "▼ "
WHEEL: Final = 3
"""Lines that the mouse wheel moves by."""


class Lines(Widget):
    """Shows `content` from a line on; where lines are left below, the last one shown says so."""

    auto_links = False  # a line that can be tapped looks like any other

    def __init__(self, *, id: str, more: str = "") -> None:  # noqa: A002 (Textual's own word)
        super().__init__(id=id)
        self.content = Content("")
        self.more = more
        self._top = 0
        self._strips: list[Strip] | None = None

    def update(self, content: Content, *, from_top: bool = True) -> None:
        """Show another text, from its top or from where the keeper was."""
        self.content = content
        self._strips = None
        self._top = 0 if from_top else self._top
        self.refresh()

    def notify_style_update(self) -> None:
        """Other colours: Draw again."""
        self._strips = None
        super().notify_style_update()

    def on_resize(self) -> None:
        """Draw for the new width."""
        self._strips = None
        self.scroll_by(0)

    def scroll_by(self, lines: int) -> None:
        """Show the text from some lines further down or up."""
        last = max(0, len(self._drawn()) - self.size.height)
        self._top = min(max(0, self._top + lines), last)
        self.refresh()

    def page(self, down: int) -> None:
        """Read on, or back, by what fits, one line less."""
        self.scroll_by(down * max(1, self.size.height - 1))

    def on_mouse_scroll_down(self, event: events.MouseScrollDown) -> None:
        """Read on."""
        event.stop()
        self.scroll_by(WHEEL)

    def on_mouse_scroll_up(self, event: events.MouseScrollUp) -> None:
        """Read back."""
        event.stop()
        self.scroll_by(-WHEEL)

    def render_line(self, y: int) -> Strip:
        """One line of the text."""
        number, strips, width = self._top + y, self._drawn(), self.size.width
        if number >= len(strips):
            return Strip.blank(width, self.rich_style)
        if self.more and y == self.size.height - 1 and number < len(strips) - 1:
            return self._strip(Content.styled(f"{MORE}{self.more}", "$quiet"))
        return strips[number]

    def _drawn(self) -> list[Strip]:
        if self._strips is None:
            self._strips = self._strips_of(self.content)
        return self._strips

    def _strip(self, content: Content) -> Strip:
        return self._strips_of(content)[0]

    def _strips_of(self, content: Content) -> list[Strip]:
        return Visual.to_strips(self, content, max(1, self.size.width), None, self.visual_style, pad=True)
