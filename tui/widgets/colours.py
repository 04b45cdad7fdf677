"""The theme's colours for what is drawn cell by cell."""

from __future__ import annotations

from rich.style import Style
from textual.app import App
from textual.color import Color


def theme_style(app: App[object], name: str) -> Style:
    """The style of a colour of the present theme by its name; a plain one for no name."""
    value = app.theme_variables.get(name)
    return Style(color=Color.parse(value).rich_color) if value else Style()
