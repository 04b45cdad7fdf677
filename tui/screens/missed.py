"""What was missed, shrimplets first, and what the plan makes of it."""

from __future__ import annotations

from datetime import timedelta
from typing import ClassVar, Final

from textual.binding import BindingType

from schedules.missed import Missed, missed
from schedules.words import date_text, day_text, days_word
from tui.acts import bindings_of
from tui.screens.listing import BACK, Listing
from tui.telling import due_text, feed_name, outcome_text

DAYS_BACK: Final = 7


class MissedScreen(Listing[Missed]):
    """The missed servings of the last days."""

    place = "missed"
    subject = f"missed in the last {DAYS_BACK} days"
    columns = (("missed ", 11), ("tank", 6), ("feed", 18), ("without", 20), ("what becomes of it", None))
    nothing = f"Nothing was missed in the last {DAYS_BACK} days."
    BINDINGS: ClassVar[list[BindingType]] = [*bindings_of("missed"), BACK]

    def items(self) -> tuple[Missed, ...]:
        """Missed servings, by consequence."""
        desk = self.desk
        since = desk.day - timedelta(days=DAYS_BACK)
        return missed(desk.room, desk.history, desk.ledger.postings(since, desk.day), desk.day, since)

    def row(self, item: Missed) -> tuple[str, ...]:
        """Day, tank, feed, how long without, what becomes of it."""
        without = "never given" if item.without is None else f"{days_word(item.without)}, at most {item.max_gap}"
        feed = feed_name(self.desk.room, item.due.feed)
        return date_text(item.day), item.due.tank, feed, without, outcome_text(item, self.desk.day)

    def about(self, item: Missed) -> str:
        """The missed serving in full sentences."""
        tank = self.desk.room.tanks[item.due.tank]
        feed = feed_name(self.desk.room, item.due.feed)
        amount = due_text(item.due)
        due = f"{tank.id} {tank.name}: {amount} of {feed} was due {date_text(item.day)}."
        late = " The tank is beyond its longest gap." if item.overdue else ""
        if item.outcome == "given since":
            return f"{due} It was given since.{late}"
        if item.outcome == "given later" and item.on is not None:
            return f"{due} The plan gives it {day_text(item.on, self.desk.day)} instead; nothing is doubled.{late}"
        turn = "no turn is planned" if item.on is None else f"its next turn is {day_text(item.on, self.desk.day)}"
        return f"{due} It is let go: {turn}, and nothing is doubled.{late}"
