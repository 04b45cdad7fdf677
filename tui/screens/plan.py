"""The coming weeks as posted: tanks by days, with the day's minutes above and the cell at hand told below."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import timedelta
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.content import Content
from textual.widgets import Static

from schedules.ledger import PostedServing, Posting
from schedules.room import Room
from schedules.words import date_text, method_text
from tui.acts import bindings_of
from tui.desk import Desk
from tui.screens.page import Page
from tui.telling import due_text, feed_name
from tui.widgets.plan_grid import PlanGrid, PlanPicture


class PlanScreen(Page):
    """The posting in force, as a picture."""

    place = "plan"
    subject = "the plan as posted"
    BINDINGS: ClassVar[list[BindingType]] = [*bindings_of("plan")]

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self._posting = desk.ledger.posting(desk.day) or Posting(desk.day, ((),))
        self._letters = letters(desk.room.feeds)
        self._by_cell = _by_cell(self._posting)

    def compose_body(self) -> ComposeResult:
        """The picture, and the cell at hand in words."""
        yield PlanGrid(picture_of(self.desk.room, self._posting, self._letters))
        yield Static(id="detail")

    def on_mount(self) -> None:
        """Start at today."""
        grid = self.query_one(PlanGrid)
        grid.action_move((self.desk.day - self._posting.start).days, 0)
        grid.focus()
        self._tell_cell()

    def on_plan_grid_moved(self) -> None:
        """Say what is served in the cell at hand."""
        self._tell_cell()

    def _tell_cell(self) -> None:
        cell = self.query_one(PlanGrid).cell
        if cell is None:
            return
        room, (tank_id, day) = self.desk.room, cell
        tank = room.tanks[tank_id]
        lines = [Content(f"{tank.id} {tank.name}, {date_text(self._posting.start + timedelta(days=day))}")]
        for due in self._by_cell.get(cell, ()):
            letter = self._letters.get(due.feed, "?")
            text = f" {feed_name(room, due.feed)}: {due_text(due)}, {method_text(due.method)}"
            lines.append(Content.assemble((letter, "bold"), text))
        if len(lines) == 1:
            lines.append(Content("nothing on this day"))
        legend = "  ".join(f"{letter} {room.feeds[feed].name}" for feed, letter in self._letters.items())
        lines.append(Content.styled(legend, "$text-muted"))
        self.query_one("#detail", Static).update(Content("\n").join(lines))


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
    minutes = [sum(_minutes(room, due) for due in servings) for servings in posting.days]
    marks: dict[tuple[str, int], str] = {}
    for (tank, day), servings in _by_cell(posting).items():
        found = [letter_of.get(due.feed, "?") for due in servings]
        marks[tank, day] = "".join(found) if len(found) <= 3 else f"{''.join(found[:2])}+"
    return PlanPicture(room.walk, days, minutes, marks)


def _minutes(room: Room, due: PostedServing) -> float:
    rules = room.tanks[due.tank].feeds.get(due.feed) if due.tank in room.tanks else None
    return rules.minutes if rules else 0.0


def _by_cell(posting: Posting) -> dict[tuple[str, int], list[PostedServing]]:
    found: dict[tuple[str, int], list[PostedServing]] = {}
    for day, servings in enumerate(posting.days):
        for due in servings:
            found.setdefault((due.tank, day), []).append(due)
    return found
