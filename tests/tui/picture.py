"""What a screen says, as plain text: the program's own screenshot with everything but the letters taken away.

Rich writes an SVG with one `text` element for each run of letters, at `x` = cell × width of a cell, in a line that its
clip path names. Colours and styles are not compared: they go by the theme, and every colour goes with a word.
"""

from __future__ import annotations

import re
from html import unescape
from typing import Any, Final

from rich.cells import cell_len
from textual.app import App

CELL: Final = 12.2
"""Width of a cell in the SVG: Rich's letters are 20 high and 0.61 times as wide."""
_RUN: Final = re.compile(
    r'<text class="[^"]*-r\d+" x="([\d.]+)" y="[\d.]+" textLength="[\d.]+" '
    r'clip-path="url\(#[^)]*-line-(\d+)\)">(.*?)</text>'
)


def picture(app: App[Any]) -> str:
    """The screen as lines of text without blanks at their ends."""
    lines: dict[int, str] = {}
    for x, number, text in _RUN.findall(app.export_screenshot()):
        line, at = lines.get(int(number), ""), round(float(x) / CELL)
        lines[int(number)] = line + " " * (at - cell_len(line)) + unescape(text).replace("\xa0", " ")
    return "\n".join(lines.get(number, "").rstrip() for number in range(app.size.height)) + "\n"
