"""The acts at a tank that ask something first: which serving, why, how much, what was left."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Final

from textual import work

from schedules.ledger import LedgerFault, Leftovers, PostedServing
from schedules.room import Feed
from schedules.round import Refusal, RoundServing, Stop
from schedules.session.outcome import Outcome
from schedules.wording.doses import choice_text, given_text, unit_text
from schedules.wording.refusals import refusal_text
from tui.screens.ask import Ask
from tui.screens.choose import Choose
from tui.screens.page import Page

REASONS: Final = (
    "leftovers lying",
    "water cloudy",
    "many just moulted",
    "animals unwell or treated",
    "out of this feed",
)
LEFTOVERS: Final[tuple[Leftovers, ...]] = ("none", "some", "most")


class Acting(Page):
    """A screen with a tank at hand. Acts are recorded first and shown after; a ledger that fails is told of."""

    @property
    def tank_at_hand(self) -> str | None:
        """The tank that acts are about."""
        return None

    @property
    def stop_at_hand(self) -> Stop | None:
        """The stop of the round at that tank."""
        return next((stop for stop in self.session.sheet.stops if stop.tank == self.tank_at_hand), None)

    def after(self, outcome: Outcome) -> None:
        """Show what an act came to, on every screen; the way back is named beside it."""
        self.rackround.caught_up(outcome.tanks)
        way_back = f"{self.key('undo')} takes it back" if outcome.done and outcome.undoable else ""
        self.tell(self.rackround.outcome_text(outcome), way_back)

    def record(self, act: Callable[[], Outcome]) -> None:
        """Do an act and show what it came to; where the ledger fails, say so and leave everything as it was."""
        try:
            outcome = act()
        except LedgerFault as fault:
            self.tell(f"NOT SAVED. {fault}")
            return
        self.after(outcome)

    def record_serving(self, feed: Feed, amount: float | None = None) -> None:
        """Record a serving at the tank at hand, asking whether to insist where a rule stands against it."""
        tank = self.tank_at_hand
        if tank is None:
            return
        try:
            outcome = self.session.give(tank, feed.id, amount)
        except LedgerFault as fault:
            self.tell(f"NOT SAVED. {fault}")
            return
        if outcome.refusal is not None:
            self._insist(tank, feed, amount, outcome.refusal)
        else:
            self.after(outcome)

    @work
    async def _insist(self, tank: str, feed: Feed, amount: float | None, refusal: Refusal) -> None:
        title = f"Hold back {feed.name} in {tank}: {refusal_text(self.session.room, refusal)}"
        options = ("leave it", "give it all the same, recorded as extra and flagged")
        if await self.app.push_screen_wait(Choose(title, options)) == 1:
            self.record(lambda: self.session.give(tank, feed.id, amount, anyway=True))

    def action_one(self) -> None:
        """Mark the first serving as given."""
        self.action_serving(1)

    def action_serving(self, number: int) -> None:
        """Mark one serving as given by its number."""
        stop = self.stop_at_hand
        if stop is None or number > len(stop.servings):
            return
        serving = stop.servings[number - 1]
        feed = self.session.room.feeds.get(serving.due.feed)
        if not self.session.is_due(serving):
            state = "waiting to be saved" if serving.state == "due" else serving.state
            self.tell(f"{serving.feed_name}: {state} already")
        elif feed is not None:
            self.record_serving(feed)

    @work
    async def action_skip(self) -> None:
        """Leave out one due serving, or all of them, with a reason."""
        stop = self.stop_at_hand
        due = [serving for serving in stop.servings if self.session.is_due(serving)] if stop else []
        if stop is None or not due:
            self.tell("nothing is due here to skip")
            return
        chosen: Sequence[RoundServing] = due
        if len(due) > 1:
            options = ["all of it", *(self._line(serving) for serving in due)]
            picked = await self.app.push_screen_wait(Choose(f"{stop.tank}: leave out what?", options))
            if picked is None:
                return
            chosen = due if picked == 0 else [due[picked - 1]]
        because = await self._reason(stop.tank)
        if because:
            self.record(lambda: self.session.skip(stop.tank, [each.due.feed for each in chosen], because))

    async def _reason(self, tank: str) -> str | None:
        picked = await self.app.push_screen_wait(Choose(f"{tank}: why?", (*REASONS, "another reason")))
        if picked is None or picked < len(REASONS):
            return None if picked is None else REASONS[picked]
        return await self.app.push_screen_wait(Ask(f"{tank}: why is it left out?"))

    @work
    async def action_amount(self) -> None:
        """Give one due serving in another amount."""
        stop = self.stop_at_hand
        due = [serving for serving in stop.servings if self.session.is_due(serving)] if stop else []
        if stop is None or not due:
            self.tell(f"nothing is due here; {self.key('extra')} gives a feed that is not")
            return
        serving = due[0]
        if len(due) > 1:
            title = f"{stop.tank}: another amount of what?"
            picked = await self.app.push_screen_wait(Choose(title, [self._line(each) for each in due]))
            if picked is None:
                return
            serving = due[picked]
        feed = self.session.room.feeds.get(serving.due.feed)
        if feed is None:
            self.tell(f"{serving.feed_name} is no longer in the room file")
            return
        amount = await self._how_much(stop.tank, feed, serving.due)
        if amount is not None:
            self.record_serving(feed, amount)

    async def _how_much(self, tank: str, feed: Feed, due: PostedServing) -> float | None:
        """An amount the keeper can take, as measures: a few steps around what is due, or one that is typed."""
        from schedules.round.choices import amounts_around

        unit, ways = amounts_around(self.session.doses, feed, due)
        title = f"{tank}: how much {feed.name}?"
        picked = await self.app.push_screen_wait(
            Choose(title, [*(choice_text(feed, way) for way in ways), "another amount"])
        )
        if picked is None or picked < len(ways):
            return None if picked is None else ways[picked].measures
        typed = await self.app.push_screen_wait(
            Ask(f"{tank}: how many {unit_text(feed, unit)} of {feed.name}?", limit=8)
        )
        amount = self._number(typed)
        return None if amount is None else amount * unit.measures

    def _number(self, typed: str | None) -> float | None:
        if typed is None:
            return None
        try:
            amount = float(typed.replace(",", "."))
        except ValueError:
            amount = 0.0
        if 0 < amount <= 1000:
            return amount
        self.tell(f'"{typed}" is no amount; a number above 0 and up to 1000 is')
        return None

    def _line(self, serving: RoundServing) -> str:
        due, held = serving.due, "  (hold back)" if serving.held else ""
        dose = given_text(self.session.doses, due)
        return f"{serving.feed_name}, {dose}{held}"

    @work
    async def action_extra(self) -> None:
        """Give a feed that is not due here."""
        tank_id = self.tank_at_hand
        if tank_id is None:
            return
        tank, stop = self.session.room.tanks[tank_id], self.stop_at_hand
        due = {serving.due.feed for serving in stop.servings if serving.state == "due"} if stop else set()
        feeds = [self.session.room.feeds[feed] for feed in tank.feeds if feed not in due]
        if not feeds:
            self.tell(f"{tank_id}: every feed it takes is due; a digit marks one")
            return
        title = f"{tank_id}: give what?"
        picked = await self.app.push_screen_wait(Choose(title, [feed.name for feed in feeds]))
        if picked is not None:
            self.record_serving(feeds[picked])

    @work
    async def action_leftovers(self) -> None:
        """Say how much of a feed is lying in the tank."""
        tank_id = self.tank_at_hand
        if tank_id is None:
            return
        feeds = self._recent_feeds(tank_id)
        if not feeds:
            self.tell(f"{tank_id}: nothing was given here lately")
            return
        feed = feeds[0]
        if len(feeds) > 1:
            title = f"{tank_id}: leftovers of what?"
            picked = await self.app.push_screen_wait(Choose(title, [each.name for each in feeds]))
            if picked is None:
                return
            feed = feeds[picked]
        title = f"{tank_id}: how much {feed.name} is lying?"
        left = await self.app.push_screen_wait(Choose(title, LEFTOVERS))
        if left is not None:
            self.record(lambda: self.session.observe(tank_id, feed.id, LEFTOVERS[left]))

    def _recent_feeds(self, tank: str) -> list[Feed]:
        """Feeds given to a tank in the last days, the latest first."""
        last = {
            feed: servings[-1][0].seq
            for feed in self.session.room.feeds
            if (servings := self.session.history.servings(tank, feed))
        }
        return [self.session.room.feeds[feed] for feed in sorted(last, key=lambda feed: -last[feed])]

    @work
    async def action_note(self) -> None:
        """Write a note about the tank."""
        tank = self.tank_at_hand
        if tank is None:
            return
        text = await self.app.push_screen_wait(Ask(f"{tank}: note"))
        if text is not None:
            self.record(lambda: self.session.note(tank, text))

    def action_open_tank(self) -> None:
        """Show the life of the tank at hand."""
        if self.tank_at_hand is not None:
            self.rackround.show_tank(self.tank_at_hand)

    def action_tank_of(self) -> None:
        """Show the life of the tank at hand."""
        self.action_open_tank()

    def action_go_there(self) -> None:
        """Go to the tank's stop in the round."""
        if self.tank_at_hand is not None:
            self.rackround.show_stop(self.tank_at_hand)

    def action_reckon(self) -> None:
        """Show how the amounts due at the tank come about."""
        from tui.screens.leaf import Leaf, leaf_width
        from tui.widgets.breakdown import stop_lines

        tank, stop = self.tank_at_hand, self.stop_at_hand
        if tank is not None:
            feeds = (
                [serving.due.feed for serving in stop.servings] if stop else list(self.session.room.tanks[tank].feeds)
            )
            lines = stop_lines(self.session, self.session.room.tanks[tank], feeds, leaf_width(self.app.size.width))
            self.app.push_screen(Leaf(f"{tank}: how the amounts come about", lines))

    def action_undo(self) -> None:
        """Take back the newest act of this keeper today."""
        self.record(self.session.undo)
