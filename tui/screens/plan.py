"""The coming weeks as posted: tanks by days, with the day's minutes above and the current cell in words below."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import date, timedelta
from typing import ClassVar, Final

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.content import Content

from schedules.formatting import date_text
from schedules.ledger import Posting
from schedules.room import Room
from schedules.room.days_off import is_day_off
from schedules.session.plan_reasons import CellReason, PlanReasons, stage_changes
from schedules.session.session import Session
from schedules.wording.entries import feed_name
from schedules.wording.glossary import PLAN_SIGNS
from schedules.wording.plan_reasons import reason_texts, served_text, stage_change_text
from tui.acts import bindings_of
from tui.screens.bases.tank_acts import TankActs
from tui.screens.dialogs.text_dialog import TextDialog, text_width
from tui.widgets.bar import Bar
from tui.widgets.breakdown import hanging
from tui.widgets.cells import cut, short, wrap
from tui.widgets.grids.plan_grid import PlanGrid, PlanPicture
from tui.widgets.lines import Lines

TOLD: Final = 5
TOLD_ROOMY: Final = 9
ROOMY: Final = 32
"""Lines about the current cell, and on screens of so many lines and more."""


class PlanScreen(TankActs):
    """The posting in force, as a picture."""

    place = "plan"
    subject = "the plan as posted"
    BINDINGS: ClassVar[list[BindingType]] = [*bindings_of("plan")]

    def __init__(self, session: Session, at: tuple[str, date] | None = None) -> None:
        """Start `at` a tank's day; else at today, at the tank of the next open stop."""
        super().__init__(session)
        self._at = at or (self._next_tank(), session.day)
        self._posting = session.plan or Posting(session.day, ((),))
        self._letters = letters(session.room.feeds)
        self._reasons = PlanReasons(session, self._posting)

    def compose_body(self) -> ComposeResult:
        """The picture, and the current cell in words."""
        yield PlanGrid(picture_of(self.session.room, self._posting, self._letters))
        yield Lines(id="detail")

    def on_mount(self) -> None:
        """Go to where it starts."""
        grid = self.query_one(PlanGrid)
        tank, day = self._at
        grid.go_to(tank, (day - self._posting.start).days)
        grid.focus()
        self.query_one(Bar).show(f"{self.key('why')} explains the signs")

    def catch_up(self, tanks: frozenset[str]) -> None:
        """Show the plan again where another is in force now: the coming days were planned since."""
        super().catch_up(tanks)
        posting = self.session.plan
        if posting is not None and posting != self._posting:
            self.app.call_later(self._show_anew)

    def _show_anew(self) -> None:
        if self.is_current:
            cell = self.query_one(PlanGrid).cell
            self.app.pop_screen()
            self.app.push_screen(PlanScreen(self.session, cell and (cell[0], self._day(cell[1]))))

    def _next_tank(self) -> str:
        return self.session.sheet.next_tank() or ""

    def on_resize(self) -> None:
        """Describe the current cell in the new width."""
        super().on_resize()
        self.query_one(Lines).styles.height = self._most
        self._tell_cell()

    @property
    def _most(self) -> int:
        """How many lines describe the current cell."""
        return TOLD_ROOMY if self.app.size.height >= ROOMY else TOLD

    @property
    def current_tank(self) -> str | None:
        """The tank of the current cell."""
        cell = self.query_one(PlanGrid).cell
        return cell[0] if cell else None

    def on_plan_grid_moved(self) -> None:
        """Say what is served in the current cell, and what is not."""
        self._tell_cell()

    def _tell_cell(self) -> None:
        cell = self.query_one(PlanGrid).cell
        if cell is None:
            return
        width = max(20, self.app.size.width - 2)
        lines = [self._head(*cell), *(self._reason_line(reason, width) for reason in self._reasons_at(*cell))]
        most = self._most
        shown = lines[:most]
        if len(lines) > most:
            shown[-1] = Content.styled(
                cut(f"{self.key('why')} shows {len(lines) - most + 1} more feeds", width), "$quiet"
            )
        self.query_one(Lines).update(Content("\n").join(shown))

    def _day(self, number: int) -> date:
        return self._posting.start + timedelta(days=number)

    def _head(self, tank_id: str, number: int) -> Content:
        tank, day = self.session.room.tanks[tank_id], self._day(number)
        said = [
            f"{tank.label}, {date_text(day)}",
            *(stage_change_text(each) for each in stage_changes(tank, day)),
        ]
        return Content.styled(cut("; ".join(said), max(20, self.app.size.width - 2)), "bold")

    def _reasons_at(self, tank: str, number: int) -> list[CellReason]:
        return self._reasons.of(self.session.room.tanks[tank], number)

    def _reason_line(self, reason: CellReason, width: int) -> Content:
        room = self.session.room
        first = next(iter(reason_texts(room, reason)), "")
        text = "; ".join(part for part in (served_text(self.session.room, reason) or "not given", first) if part)
        line = cut(f"{short(feed_name(room, reason.feed), 22)}: {text}", width - 2)
        style = "" if reason.due else "$quiet"
        return Content.assemble((f"{self._letters.get(reason.feed, '?')} ", "bold"), (line, style))

    def action_why(self) -> None:
        """Say of every feed of the current cell why it is served or not."""
        cell = self.query_one(PlanGrid).cell
        if cell is None:
            return
        width = text_width(self.app.size.width)
        lines, room = [self._head(*cell)], self.session.room
        for reason in self._reasons.of(self.session.room.tanks[cell[0]], cell[1], whole=True):
            letter, because = self._letters.get(reason.feed, "?"), "; ".join(reason_texts(room, reason))
            served = served_text(self.session.room, reason) or "not given"
            lines += hanging(f"{letter} {feed_name(room, reason.feed)}: {served}", width, "bold", indent=2)
            lines += [Content.styled(f"  {line}", "$quiet") for line in wrap(because, width - 2)] if because else []
        self.app.push_screen(TextDialog("Why, and why not", [*lines, *self._legend(width)]))

    def _legend(self, width: int) -> list[Content]:
        """Every sign of the picture: a letter for each feed, and the others."""
        feeds = [(letter, feed_name(self.session.room, feed)) for feed, letter in self._letters.items()]
        lines = [
            line for sign, text in (*feeds, *PLAN_SIGNS) for line in hanging(f"{sign} {text}", width, "", indent=2)
        ]
        return [Content(""), Content.styled("Signs of the plan", "bold $primary"), *lines]


def letters(feeds: Iterable[str]) -> dict[str, str]:
    """A letter for each feed: the first free one of its id, else the first free one of the alphabet."""
    taken: dict[str, str] = {}
    for feed in feeds:
        wanted = [each for each in feed.lower() if each.isalpha()] + list("abcdefghijklmnopqrstuvwxyz0123456789")
        taken[feed] = next((each for each in wanted if each not in taken.values()), "?")
    return taken


def picture_of(room: Room, posting: Posting, letter_of: Mapping[str, str]) -> PlanPicture:
    """What the grid draws of a posting."""
    days = [posting.start + timedelta(days=number) for number in range(len(posting.days))]
    minutes_of = {(tank.id, feed): rules.minutes for tank in room.tanks.values() for feed, rules in tank.feeds.items()}
    minutes = [sum(minutes_of.get((due.tank, due.feed), 0.0) for due in servings) for servings in posting.days]
    found: dict[tuple[str, int], str] = {}
    for day, servings in enumerate(posting.days):
        for due in servings:
            found[due.tank, day] = found.get((due.tank, day), "") + letter_of.get(due.feed, "?")
    marks = {cell: mark if len(mark) <= 3 else f"{mark[:2]}+" for cell, mark in found.items()}
    rests = {tank.id: tank.rest_weekday for tank in room.tanks.values() if tank.rest_weekday is not None}
    changes = {
        (tank.id, (day - posting.start).days)
        for tank in room.tanks.values()
        for here in tank.animals
        for day in (here.first, here.last + timedelta(days=1) if here.last else None)
        if day is not None
    }
    off = [is_day_off(room, day) for day in days]
    return PlanPicture(room.walk, days, minutes, marks, rests, changes, off)
