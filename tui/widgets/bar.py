"""The two lines at the top of every screen: where and when, and how far the round is."""

from __future__ import annotations

from typing import Final

from textual.content import Content
from textual.widgets import Static

from schedules.words import date_text, minutes_text
from tui.desk import Desk

METER: Final = 16
"""Cells of the progress meter."""


class Bar(Static):
    """Room, day and round; stops done, minutes left."""

    def __init__(self, desk: Desk, subject: str = "") -> None:
        super().__init__(id="bar")
        self._desk = desk
        self._subject = subject

    def on_mount(self) -> None:
        """Show how things stand."""
        self.tell()

    def tell(self) -> None:
        """Show how things stand now."""
        desk, sheet = self._desk, self._desk.sheet
        subject = self._subject or f"{desk.round} round"
        title = f"{desk.room.name} · {date_text(desk.day)} · {subject}"
        done, stops = sheet.done, len(sheet.stops)
        filled = METER * done // stops if stops else METER
        progress = f"{done} of {stops} stops done, {minutes_text(sheet.minutes_left)} left"
        if desk.new_day:
            progress = "A new day has begun: r opens its round"
        self.update(
            Content.assemble(
                (title, "bold"),
                f" · {desk.by}\n",
                ("━" * filled, "$success"),
                ("─" * (METER - filled), "$text-muted"),
                f" {progress}",
            )
        )
