"""What was missed, shrimplets first, what the plan makes of it, and what the keeper decides."""

from __future__ import annotations

from datetime import timedelta
from typing import ClassVar, Final

from textual import work
from textual.binding import BindingType

from schedules.chores import ChoreDue
from schedules.formatting import date_text, day_text, days_word
from schedules.review.missed import Missed
from schedules.session.missed_rows import DAYS_BACK, MissedRow, RoundOfDay, last_looked, missed_rows
from schedules.session.session import Session
from schedules.wording.chores.chores import at_text, consequence_text, when_text
from schedules.wording.entries import due_text, feed_name, missed_outcome_text
from schedules.wording.missed import unposted_text
from schedules.wording.needs import waited_text, waiting_text
from tui.acts import bindings_of
from tui.screens.bases.list_screen import ListScreen
from tui.screens.dialogs.ask import Ask
from tui.screens.dialogs.choose import Choose
from tui.screens.dialogs.leave_out import CHORE_REASONS, ask_reason
from tui.widgets.cells import short

REASONS: Final = ("nobody was there", "too late to make up for", "animals had enough", "out of this feed")


class MissedScreen(ListScreen[MissedRow | ChoreDue]):
    """The missed servings of the last days, then chores that are late."""

    place = "missed"
    subject = f"missed in the last {DAYS_BACK} days"
    columns = (("missed", 12), ("tank", 6), ("feed", 19), ("without", 20), ("what becomes of it", None))
    left_out = frozenset(("without",))
    nothing = f"Nothing was missed in the last {DAYS_BACK} days, or all of it is decided."
    BINDINGS: ClassVar[list[BindingType]] = [*bindings_of("missed")]

    def __init__(self, session: Session) -> None:
        super().__init__(session)
        self._opened: set[RoundOfDay] = set()
        self._looked = last_looked(session.history, session.by, session.day)
        unposted = session.unposted(session.day - timedelta(days=DAYS_BACK))
        if unposted:
            text = "; ".join(unposted_text(span) for span in unposted)
            self.nothing = f"{text[0].upper()}{text[1:]}."

    def items(self) -> tuple[MissedRow | ChoreDue, ...]:
        """Whole rounds, then single servings by consequence, then late chores."""
        found = self.session.missed(self.session.day - timedelta(days=DAYS_BACK))
        rows = missed_rows(self.session.room, self.session.history, found, self._opened)
        return (*rows, *(each for each in self.session.late_chores() if self.session.is_chore_due(each)))

    def row(self, item: MissedRow | ChoreDue) -> tuple[str, ...]:
        """Day, tank, feed or chore, how long without, what becomes of it."""
        if isinstance(item, ChoreDue):
            return self._chore_row(item)
        new = "*" if self._is_new(item) else ""
        if item.whole:
            tanks = len({gap.due.tank for gap in item.gaps})
            late = sum(gap.overdue for gap in item.gaps)
            feeds = f"{len(item.gaps)} servings"
            return (
                f"{date_text(item.day)}{new}",
                "all",
                f"{item.round} round",
                feeds,
                f"{tanks} tanks, {late} late",
            )
        gap = item.gaps[0]
        without = waited_text(gap)
        feed = short(feed_name(self.session.room, gap.due.feed), 18)
        return f"{date_text(gap.day)}{new}", gap.due.tank, feed, without, missed_outcome_text(gap, self.session.day)

    def _chore_row(self, item: ChoreDue) -> tuple[str, ...]:
        last = "" if item.turn is None else date_text(item.turn.last)
        where = item.place.tank or item.place.rack or "room"
        becomes = "due once" if item.passed else "still due"
        return last, where, item.chore.name, f"{days_word(item.days_late)} late", becomes

    def _is_new(self, item: MissedRow) -> bool:
        return self._looked is None or item.day >= self._looked

    def about(self, item: MissedRow | ChoreDue) -> str:
        """The missed serving or the late chore in full sentences."""
        if isinstance(item, ChoreDue):
            where = at_text(self.session.room, item.place)
            return f"{item.chore.name}, {where}: {when_text(item)}. {consequence_text(item)}."
        new = "\n* missed since you last marked anything" if self._is_new(item) else ""
        if item.whole:
            later = sum(gap.outcome == "given later" for gap in item.gaps)
            return (
                f"Nothing of the {item.round} round of {date_text(item.day)} was marked. {self.key('unfold')} opens "
                f"it, {self.key('let_go')} lets all of it go. The plan gives {later} of its {len(item.gaps)} servings "
                f"earlier than their next turn, lets the others go, and doubles nothing.{new}"
            )
        return self._about_one(item.gaps[0]) + new

    def _about_one(self, gap: Missed) -> str:
        tank = self.session.room.tanks[gap.due.tank]
        feed = feed_name(self.session.room, gap.due.feed)
        due = f"{tank.label}: {due_text(self.session.room, gap.due)} of {feed} was due {date_text(gap.day)}."
        late = f" The tank is beyond its longest gap: {waiting_text(self.session.room, gap)}." if gap.overdue else ""
        if gap.outcome == "given since":
            return f"{due} It was given since.{late}"
        if gap.outcome == "given later" and gap.on is not None:
            return f"{due} The plan gives it {day_text(gap.on, self.session.day)} instead; nothing is doubled.{late}"
        turn = "no turn is planned" if gap.on is None else f"its next turn is {day_text(gap.on, self.session.day)}"
        return f"{due} It is let go: {turn}, and nothing is doubled.{late}"

    def tank_of(self, item: MissedRow | ChoreDue) -> str | None:
        """The tank of a single serving or chore."""
        if isinstance(item, ChoreDue):
            return item.place.tank
        return None if item.whole else item.gaps[0].due.tank

    def action_unfold(self) -> None:
        """Open or close a whole round; of a single serving, show the tank."""
        item = self.current_item
        if isinstance(item, MissedRow) and item.whole:
            self._opened ^= {(item.day, item.round)}
            self.fill()
        else:
            self.action_open_tank()

    def action_give_now(self) -> None:
        """Give a missed serving today, if no rule forbids it; of a chore, say that it is done."""
        item = self.current_item
        if item is None:
            return
        if isinstance(item, ChoreDue):
            self.record(lambda: self.session.did(item.chore.id, item.place))
            return
        feed = self.session.room.feeds.get(item.gaps[0].due.feed)
        if item.whole:
            self.say(f"A whole round is never given twice; {self.key('unfold')} opens it to give single servings")
        elif feed is None:
            self.say("this feed is no longer in the room file")
        else:
            self.record_serving(feed)

    @work
    async def action_let_go(self) -> None:
        """Let a missed serving go, or all that was missed of its round, or a late chore, with the reason."""
        item = self.current_item
        if item is None:
            return
        if isinstance(item, ChoreDue):
            reason = await ask_reason(self.app, item.chore.name, CHORE_REASONS)
            if reason:
                self.record(lambda: self.session.did(item.chore.id, item.place, reason))
            return
        gaps: tuple[Missed, ...] = item.gaps
        others = self._same_round(item)
        if not item.whole:
            # Asked even where nothing else was missed, so that the same keys always do the same.
            all_of_it = [f"all {len(others)} still missed of that round"] if len(others) > 1 else []
            options = ["this serving", *all_of_it]
            picked = await self.app.push_screen_wait(Choose(f"{date_text(item.day)}: let go what?", options))
            if picked is None:
                return
            gaps = others if picked == 1 else gaps
        because = await self._why_let_go(item)
        if because:
            self.record(lambda: self.session.let_go(item.day, gaps, because))

    def _same_round(self, item: MissedRow) -> tuple[Missed, ...]:
        same = {
            (gap.due.tank, gap.due.feed): gap
            for row in self._items
            if isinstance(row, MissedRow)
            for gap in row.gaps
            if (row.day, row.round) == (item.day, item.round) and gap.outcome != "given since"
        }
        return tuple(same.values())

    def catch_up(self, tanks: frozenset[str]) -> None:
        """Others changed something: list it again, chores of racks and of the room too."""
        super().catch_up(tanks)
        if not tanks and self.session.room.chores:
            self.fill()

    async def _why_let_go(self, item: MissedRow) -> str | None:
        title = f"{date_text(item.day)}: why is it let go?"
        picked = await self.app.push_screen_wait(Choose(title, (*REASONS, "another reason")))
        if picked is None or picked < len(REASONS):
            return None if picked is None else REASONS[picked]
        return await self.app.push_screen_wait(Ask(title))
