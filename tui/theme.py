"""The program's own colours, one set for dark rooms, one for daylight. Every colour goes with a word on the screen."""

from __future__ import annotations

from dataclasses import replace
from typing import Final

from textual.theme import BUILTIN_THEMES, Theme

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
    variables={"quiet": "#95a09a"},
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
    variables={"quiet": "#59635f"},
)


def _of_the_terminal(base: str, name: str, quiet: str) -> Theme:
    """The terminal's own palette, with a colour of it for quiet lines."""
    theme = BUILTIN_THEMES[base]
    return replace(theme, name=name, variables={**theme.variables, "quiet": quiet})


TERMINAL_DARK: Final = _of_the_terminal("ansi-dark", "rackround-terminal-dark", "ansi_white")
TERMINAL_LIGHT: Final = _of_the_terminal("ansi-light", "rackround-terminal-light", "ansi_bright_black")
THEMES: Final = (DUSK, DAY, TERMINAL_DARK, TERMINAL_LIGHT)
QUIET: Final = "#8a8a8a"
"""The colour of quiet lines in themes that are not ours."""
CHOICE: Final[dict[str, str]] = {
    DUSK.name: "dusk",
    DAY.name: "day",
    TERMINAL_DARK.name: "the terminal's own, on dark",
    TERMINAL_LIGHT.name: "the terminal's own, on light",
}
"""The colours to choose from, in turn, with their names in words."""
NAMED: Final[dict[str, str]] = {
    "dusk": DUSK.name,
    "day": DAY.name,
    "terminal-dark": TERMINAL_DARK.name,
    "terminal-light": TERMINAL_LIGHT.name,
}
"""The same by the names they have in the keeper's own file."""
