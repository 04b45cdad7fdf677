"""What each line did in a year: hatches and young, grades kept, culled and sold, deaths, moves."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import ClassVar

from textual.binding import BindingType
from textual.content import Content

from schedules.ledger.entries.animals.sighting import SIGHTING
from schedules.review.lines import lines_in
from schedules.session.session import Session
from schedules.wording.animals.lines import NO_LINES, line_text, year_texts
from tui.acts import bindings_of
from tui.screens.bases.text_screen import TextScreen
from tui.widgets.breakdown import hanging


class LinesScreen(TextScreen):
    """A year of all lines, this one first."""

    place = "lines"
    subject = "lines"
    BINDINGS: ClassVar[list[BindingType]] = [*bindings_of("lines")]

    def __init__(self, session: Session) -> None:
        super().__init__(session)
        self._year = session.day.year
        self._read()

    def _read(self) -> None:
        self._seen = self.session.ledger.of_kind(SIGHTING.name)

    def lines(self, width: int) -> Iterable[Content]:
        """Each line with what it did, a line of text each."""
        found = lines_in(self._seen, self.session.file_room, self._year)
        yield Content.styled(f"{self._year} ({self.key('other_year')}: the year before)", "bold")
        if not any(each.line for each in found):
            yield from hanging(f"No line: {NO_LINES}", width, "")
        for year in found:
            yield Content("")
            yield from hanging(line_text(year), width, "bold $primary")
            yield from _texts(year_texts(year), width)

    def action_other_year(self) -> None:
        """The year before; after the oldest of which anything is written down, this one again."""
        today = self.session.day.year
        oldest = min((entry.day.year for entry in self._seen), default=today)
        self._year = self._year - 1 if self._year > oldest else today
        self.show_text()

    def catch_up(self, tanks: frozenset[str]) -> None:
        """Others wrote something: read it again."""
        if tanks:
            self._read()
        super().catch_up(tanks)


def _texts(texts: Iterable[str], width: int) -> Iterator[Content]:
    for text in texts:
        yield from hanging(f"· {text}", width, "", indent=2)
