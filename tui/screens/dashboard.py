"""What a screen may ask of the dashboard it is shown in; the app itself is one layer above and never imported here."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final, Protocol

from schedules.room.water.quantities import Quantity
from schedules.session.session import Session
from tui.acts import Place

HELD_SECONDS: Final = 0.3
"""A key that comes again within so many seconds is held down, and counts once."""


class Dashboard(Protocol):
    """The open dashboard."""

    session: Session
    only_me: bool
    """Whether nobody but the keeper who opened it can act here."""
    quantities: tuple[Quantity, ...] | None
    """What is read in the water, where the keeper chose otherwise than the room file says."""

    def key_of(self, act: str) -> str:
        """The keys of an act, as the keeper has them, separated by commas."""
        ...

    def tick(self) -> float:
        """When the present key was pressed, in seconds of a clock that only goes forward."""
        ...

    def say(self, text: str) -> None:
        """Say something in one line on the full screen on top, once it is there."""
        ...

    @property
    def notices(self) -> Sequence[str]:
        """What stays true until the keeper does something about it, in a few words each."""
        ...

    def caught_up(self, tanks: frozenset[str], text: str = "") -> None:
        """Show what changed in these tanks on every screen."""
        ...

    def show(self, place: Place) -> None:
        """Go to a screen."""
        ...

    def show_tank(self, tank: str) -> None:
        """Show one tank's life on top of the present screen."""
        ...

    def show_changes(self, tank: str) -> None:
        """Show what was different in a tank on top of the present screen."""
        ...

    def show_counting(self, tank: str) -> None:
        """Count a tank's rack on top of the present screen."""
        ...

    def show_reading(self, tank: str) -> None:
        """Read the water of a tank's rack on top of the present screen."""
        ...

    def show_water(self, tank: str) -> None:
        """Show one tank's water on top of the present screen."""
        ...

    def show_stop(self, tank: str) -> None:
        """Go to a tank's stop in the round."""
        ...

    def back(self) -> None:
        """Leave the present screen."""
        ...

    def next_theme(self) -> str:
        """Take the next colours in turn; their name in words."""
        ...

    def offer_room(self) -> None:
        """Show what the room file changes, and offer to take it in."""
        ...

    def open_round(self) -> None:
        """Show the session's round from its first open stop on."""
        ...

    def leave_unsaved(self, code: int = 2) -> None:
        """Close, and print the marks that are not saved."""
        ...
