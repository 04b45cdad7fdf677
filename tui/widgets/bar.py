"""The two lines at the top of every screen: where and when, and how far the round is."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Final

from textual.content import Content
from textual.widgets import Static

from schedules.formatting import date_text, minutes_text
from schedules.session.session import Session
from tui.widgets.cells import cells, cut

METER: Final = 16
"""Cells of the progress meter."""


class Bar(Static):
    """Day, round, room and keeper; stops done, minutes left, and what waits to be saved."""

    def __init__(
        self,
        session: Session,
        subject: str = "",
        round_key: str = "r",
        notices: Callable[[], Sequence[str]] = tuple,
    ) -> None:
        super().__init__(id="bar")
        self._session = session
        self._subject = subject
        self._round_key = round_key
        self._notices = notices
        self._hint = ""

    def on_mount(self) -> None:
        """Show how things stand."""
        self.show()

    def show(self, hint: str | None = None) -> None:
        """Show how things stand now; a hint stays until another one is given."""
        self._hint = self._hint if hint is None else hint
        session = self._session
        width = max(20, self.app.size.width - 2)
        title = cut(f"{date_text(session.day)} · {self._subject or f'{session.round} round'}", width)
        left = max(0, width - cells(title) - 2)
        # Who acts comes before the room's name: two keepers share a terminal, seldom two rooms.
        keeper = cut(session.by, left // 2)
        name = cut(session.room.name, max(0, left - cells(keeper) - 3))
        room = f"{name} · {keeper}" if name else keeper
        gap = " " * (width - cells(title) - cells(room))
        self.update(
            Content("\n").join([Content.assemble((title, "bold"), gap, (room, "$quiet")), self._progress()]),
            layout=False,
        )

    def _progress(self) -> Content:
        session, sheet = self._session, self._session.sheet
        done, stops = sheet.done, len(sheet.stops)
        filled = METER * done // stops if stops else METER
        waits = [f"{len(session.unsaved)} NOT SAVED YET"] if session.unsaved else []
        warning = " · ".join((*waits, *self._notices()))
        across = self.app.size.width - 2 - METER
        text = f" {done} of {stops} stops done, {minutes_text(sheet.minutes_left)} left"
        if session.new_day:
            text = f" A new day has begun: {self._round_key} opens its round"
        elif warning and cells(text) + 3 + cells(warning) > across:
            text = f" {done} of {stops} stops done"
        meter = (("━" * filled, "$success"), ("─" * (METER - filled), "$quiet"))
        room = across - cells(text)
        hint = f" · {self._hint}" if self._hint and not warning and cells(self._hint) + 3 <= room else ""
        warned = f" · {cut(warning, max(0, room - 3))}" if warning else ""
        return Content.assemble(*meter, text, (warned, "bold $error"), (hint, "$quiet"))
