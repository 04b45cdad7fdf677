"""What became of each hatch, side by side: a table with intervals as bars, and the one sentence about it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import ClassVar, Final, get_args

from textual.binding import BindingType
from textual.content import Content

from schedules.review.survival import By, Grouped
from schedules.review.survival.cohorts import AGES
from schedules.review.survival.statistics import Share
from schedules.session.hatches import SideBySide, side_by_side
from schedules.session.session import Session
from schedules.wording.animals.survival import BY_TEXT, cohort_text, conclusion, group_name, hatches_text, percent
from tui.acts import bindings_of
from tui.screens.bases.text_screen import TextScreen
from tui.widgets.breakdown import hanging

LABEL: Final = 12
NUMBERS: Final = 24
"""Cells of a bar's label, and of the numbers after it."""
EMPTY, BETWEEN, POINT = "·", "─", "●"


class SurvivalScreen(TextScreen):
    """Survival by tank, line, month or feeding."""

    place = "survival"
    subject = "how many lived"
    BINDINGS: ClassVar[list[BindingType]] = [*bindings_of("survival")]

    def __init__(self, session: Session) -> None:
        super().__init__(session)
        self._found = side_by_side(session, "tank")

    def lines(self, width: int) -> Iterable[Content]:
        """What can be concluded, the groups, then each hatch."""
        found = self._found
        if not found.cohorts:
            return hanging(
                "No hatch of the last year is written down: say so at the stop where you see one.", width, ""
            )
        return self._lines(found, width)

    def _lines(self, found: SideBySide, width: int) -> Iterator[Content]:
        yield from hanging(conclusion(found.groups, found.by), width, "bold", indent=0)
        yield Content("")
        yield Content.styled(f"Side by side: {BY_TEXT[found.by]} ({self.key('by')}: by another)", "bold $primary")
        for group in found.groups:
            yield from _group_lines(group, found.by, width)
        yield Content("")
        yield Content.styled("Each hatch", "bold $primary")
        for cohort in found.cohorts:
            yield from hanging(cohort_text(cohort, found.first[cohort.origin]), width, "")

    def action_by(self) -> None:
        """Put them side by side by the next in turn."""
        ways: tuple[By, ...] = get_args(By)
        self._found = side_by_side(self.session, ways[(ways.index(self._found.by) + 1) % len(ways)])
        self.show_text()

    def catch_up(self, tanks: frozenset[str]) -> None:
        """Others wrote something: read it again."""
        if tanks:
            self._found = side_by_side(self.session, self._found.by)
        super().catch_up(tanks)


def _group_lines(group: Grouped, by: By, width: int) -> Iterator[Content]:
    few = ", few" if group.few else ""
    yield from hanging(f"{group_name(group, by)}: {hatches_text(group.cohorts)}, {group.born} young{few}", width, "")
    for age in AGES:
        share = group.survival[age]
        label = f"  at {age} days".ljust(LABEL)
        if share is None:
            yield Content.assemble(label, (" not counted", "$quiet"))
            continue
        numbers = f" {percent(share.share)} ({percent(share.low)} to {percent(share.high)})"
        of = f" of {group.counted[age]}" if width >= LABEL + NUMBERS + 30 else ""
        bar = interval_bar(share, max(10, min(50, width - LABEL - NUMBERS - len(of) - 1)))
        yield Content.assemble(label, " ", (bar, "$accent"), numbers, (of, "$quiet"))


def interval_bar(share: Share, width: int) -> str:
    """A share with its interval on a line from 0 to 1 of `width` cells."""
    low, at, high = (min(width - 1, int(value * width)) for value in (share.low, share.share, share.high))
    signs = (POINT if cell == at else BETWEEN if low <= cell <= high else EMPTY for cell in range(width))
    return "".join(signs)
