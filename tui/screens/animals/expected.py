"""The hatches that are expected: when, what to do before, and the coming weeks as a strip."""

from __future__ import annotations

from datetime import date, timedelta
from typing import ClassVar, Final

from textual.binding import BindingType

from schedules.formatting import date_text
from schedules.review.expected import Expected, State, expected_hatches
from schedules.session.session import Session
from schedules.wording.animals.expected import BEFORE_A_HATCH, expected_text
from tui.acts import bindings_of
from tui.screens.bases.list_screen import ListScreen
from tui.widgets.bar import Bar

WEEKS: Final = 4
FILM, WINDOW, PASSED = "f", "#", "?"
LEGEND: Final = "f film  # hatch  ? passed"
WHEN: Final[dict[State, str]] = {
    "coming": "from",
    "due": "now, from",
    "passed": "passed",
    "unknown": "no day known",
    "in_file": "in the file",
}


class ExpectedScreen(ListScreen[Expected]):
    """Every hatch to come, the next first."""

    place = "expected"
    subject = "expected hatches"
    nothing = "No hatch is expected: say so where you see a berried female, and the days follow."
    BINDINGS: ClassVar[list[BindingType]] = [*bindings_of("expected")]

    def __init__(self, session: Session) -> None:
        super().__init__(session)
        self.columns = (("tank", 6), (_dates(session.day), 7 * WEEKS + 1), ("when", None))

    def on_mount(self) -> None:
        """Say what the strip's letters mean."""
        super().on_mount()
        self.query_one(Bar).show(LEGEND)

    def items(self) -> tuple[Expected, ...]:
        """By the first day of the window."""
        return expected_hatches(self.session.room, self.session.life, self.session.day)

    def row(self, item: Expected) -> tuple[str, ...]:
        """Where, the strip, when."""
        first = "" if item.window is None else f" {date_text(item.window.first)}"
        return item.tank, strip(item, self.session.day), WHEN[item.state] + first

    def about(self, item: Expected) -> str:
        """The hatch in full, and what to do before it."""
        label = self.session.room.tanks[item.tank].label
        return f"{label}: {expected_text(item, self.session.day)}.\n{BEFORE_A_HATCH[0]}"

    def tank_of(self, item: Expected) -> str:
        """The tank it is expected in."""
        return item.tank


def _dates(today: date) -> str:
    """Today and the Mondays of the coming weeks, each above its day."""
    days = (today + timedelta(days=number) for number in range(7 * WEEKS))
    text = ""
    for number, day in enumerate(days):
        if (number == 0 or day.weekday() == 0) and len(text) <= number:
            text = text.ljust(number) + f"{day.day} "
    return text[: 7 * WEEKS].rstrip()


def strip(item: Expected, today: date) -> str:
    """A cell for each of the coming days: film, the window, or nothing."""
    return "".join(_sign(item, today + timedelta(days=number)) for number in range(7 * WEEKS))


def _sign(item: Expected, day: date) -> str:
    if item.window is None or item.film_from is None:
        return "·"
    if day in item.window:
        return WINDOW
    if day > item.window.last:
        return PASSED if item.state == "passed" else "·"
    return FILM if day >= item.film_from else "·"
