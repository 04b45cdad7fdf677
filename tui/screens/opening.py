"""When a screen that was just opened can take keys."""

from __future__ import annotations

from typing import TypeVar

from textual.screen import Screen

Result = TypeVar("Result")


class Opening(Screen[Result]):
    """A screen that says when it stands: what keys are meant for is there and has the focus."""

    takes_keys = False

    def on_screen_resume(self) -> None:
        """Stand once everything is in its place."""
        self.call_after_refresh(self._stand)

    def _stand(self) -> None:
        self.takes_keys = True
