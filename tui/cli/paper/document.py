"""A PDF document with a font of its own, so that it looks the same everywhere and needs none of the system's.

The font is FiraGO (SIL Open Font License 1.1): Latin, Cyrillic, Greek, Arabic, Hebrew, Thai, Georgian, Devanagari. What
it lacks is shown by its code, as [U+4E2D], so that nothing is lost without a sign.
"""

from __future__ import annotations

import logging
from bisect import bisect_left
from collections.abc import Sequence
from datetime import datetime
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Final

from fpdf import FPDF
from fpdf.fonts import TTFFont
from pymupdf_fonts import fontbuffers

from tui.cli.out import visible

FAMILY: Final = "FiraGO"
STYLES: Final = {"": "figo", "B": "figbo"}
MARGIN: Final = 10.0
SMALLEST: Final = 5.0
"""Points below which text is cut rather than made smaller."""
POINT: Final = 25.4 / 72
"""Millimetres of one point."""


class Document(FPDF):
    """A4 or Letter in millimetres, with text that fits where it is put."""

    def __init__(self, paper: str, orientation: str, title: str, made_at: datetime) -> None:
        super().__init__(orientation=orientation, unit="mm", format=paper)
        # Its notes about the making of font subsets are of no use to a keeper.
        logging.getLogger("fontTools").setLevel(logging.ERROR)
        self._folder = TemporaryDirectory(prefix="rackround-font-")
        for style, name in STYLES.items():
            path = Path(self._folder.name, f"{name}.ttf")
            path.write_bytes(fontbuffers[name]())
            self.add_font(FAMILY, style, path)
        self.set_text_shaping(True)
        self.set_auto_page_break(False)
        self.set_margin(MARGIN)
        self.set_title(self.known(title))
        self.set_creation_date(made_at)
        self.set_line_width(0.2)
        self.c_margin = 0.5  # narrow columns hold two servings side by side with their boxes

    def known(self, text: str) -> str:
        """A text in characters that the font has; any other is shown by its code."""
        font = self.fonts[FAMILY.lower()]
        cmap = font.cmap if isinstance(font, TTFFont) else {}
        return "".join(each if ord(each) in cmap else f"[U+{ord(each):04X}]" for each in visible(text))

    def put(
        self,
        x: float,
        y: float,
        text: str,
        size: float,
        *,
        bold: bool = False,
        width: float | None = None,
        align: str = "L",
    ) -> float:
        """One line of text with its top left at a place; made smaller, then cut, where it is too wide.

        Gives back where it ends on the right.
        """
        wide = self.w - MARGIN - x if width is None else width
        shown, fits = self._fitted(self.known(text), size, bold, wide)
        self.set_font(FAMILY, "B" if bold else "", fits)
        self.set_xy(x, y)
        self.cell(wide, size * POINT * 1.25, shown, align=align)
        return x + self.get_string_width(shown) + self.c_margin

    def _fitted(self, text: str, size: float, bold: bool, width: float) -> tuple[str, float]:
        room = width - 2 * self.c_margin
        self.set_font(FAMILY, "B" if bold else "", size)
        wide = self.get_string_width(text)
        if wide <= room:
            return text, size
        smaller = max(SMALLEST, size * room / wide * 0.99)
        self.set_font(FAMILY, "B" if bold else "", smaller)
        if self.get_string_width(text) <= room:
            return text, smaller
        fits = bisect_left(range(len(text)), True, key=lambda end: self.get_string_width(f"{text[:end]}…") > room)
        return f"{text[: max(0, fits - 1)]}…", smaller

    def paragraph(
        self, x: float, y: float, lines: Sequence[str], size: float, *, bold: bool = False, width: float
    ) -> float:
        """Lines of text that wrap; the place below them."""
        self.set_font(FAMILY, "B" if bold else "", size)
        self.set_xy(x, y)
        for line in lines:
            self.set_x(x)
            self.multi_cell(width, size * POINT * 1.3, self.known(line), align="L", new_x="LMARGIN", new_y="NEXT")
        return self.get_y()

    def box(self, x: float, y: float, side: float) -> None:
        """A box to tick."""
        self.rect(x, y, side, side)

    def made(self) -> bytes:
        """The document; the font's file is not needed any more."""
        try:
            return bytes(self.output())
        finally:
            self._folder.cleanup()
