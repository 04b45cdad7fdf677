"""The program's own colours, one set for dark rooms, one for daylight. Every colour goes with a word on the screen."""

from __future__ import annotations

from typing import Final

from textual.theme import Theme

DUSK: Final = Theme(
    name="rackround-dusk",
    primary="#8fb8a8",
    secondary="#b5a27a",
    accent="#d9b36c",
    warning="#d99a5b",
    error="#d9776c",
    success="#8fbf7f",
    foreground="#d8dcd6",
    background="#14191a",
    surface="#1a2122",
    panel="#222b2c",
    dark=True,
)
DAY: Final = Theme(
    name="rackround-day",
    primary="#2d6355",
    secondary="#6a5a2c",
    accent="#7a5410",
    warning="#8a4b10",
    error="#9a2f24",
    success="#2f6b25",
    foreground="#1d2422",
    background="#f4f3ee",
    surface="#ebeae3",
    panel="#dfded5",
    dark=False,
)
THEMES: Final = (DUSK, DAY)
CHOICE: Final[dict[str, str]] = {
    DUSK.name: "dusk",
    DAY.name: "day",
    "ansi-dark": "the terminal's own, on dark",
    "ansi-light": "the terminal's own, on light",
}
"""The colours to choose from, in turn, with their names in words."""
NAMED: Final[dict[str, str]] = {
    "dusk": DUSK.name,
    "day": DAY.name,
    "terminal-dark": "ansi-dark",
    "terminal-light": "ansi-light",
}
"""The same by the names they have in the keeper's own file."""
