"""The acts at a tank that ask something first: which serving, why, how much, what was left."""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

from textual import work

from schedules.chores import ChoreDue
from schedules.ledger import LedgerFault, Leftovers, Response
from schedules.room import Feed
from schedules.round import Refusal, RoundServing, Stop
from schedules.round.marks import planned_serving
from schedules.session.outcome import Outcome
from schedules.wording.chores.chores import stop_id
from schedules.wording.doses import given_text
from schedules.wording.refusals import refusal_text
from tui.screens.bases.base_screen import BaseScreen
from tui.screens.dialogs.amounts import ask_amount
from tui.screens.dialogs.ask import Ask
from tui.screens.dialogs.choose import Choose
from tui.screens.dialogs.leave_out import CHORE_REASONS, REASONS, ask_reason, ask_which
from tui.widgets.outcome_line import outcome_line

LEFTOVERS: Final[tuple[Leftovers, ...]] = ("none", "some", "most")
RESPONSES: Final[tuple[Response, ...]] = ("fast", "slowly", "nobody")


class TankActs(BaseScreen):
    """A screen with a current tank. Acts are recorded first and shown after; a fault of the ledger is shown."""

    @property
    def current_tank(self) -> str | None:
        """The tank that acts are about."""
        return None

    @property
    def current_stop(self) -> Stop | None:
        """The stop of the round at that tank."""
        return next((stop for stop in self.session.sheet.stops if stop.tank == self.current_tank), None)

    def after(self, outcome: Outcome) -> None:
        """Show what an act came to, on every screen; the way back is named beside it."""
        self.rackround.caught_up(outcome.tanks)
        way_back = f"{self.key('undo')} takes it back" if outcome.done and outcome.undoable else ""
        self.say(outcome_line(self.session, outcome), way_back)

    def record(self, act: Callable[[], Outcome]) -> None:
        """Do an act and show what it came to; where the ledger fails, say so and leave everything as it was."""
        try:
            outcome = act()
        except LedgerFault as fault:
            self.say(f"NOT SAVED. {fault}")
            return
        self.after(outcome)

    def record_serving(self, feed: Feed, amount: float | None = None) -> None:
        """Record a serving at the current tank, asking whether to insist where a rule forbids it."""
        tank = self.current_tank
        if tank is None:
            return
        try:
            outcome = self.session.give(tank, feed.id, amount)
        except LedgerFault as fault:
            self.say(f"NOT SAVED. {fault}")
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
        """Mark one serving as given, or one chore as done, by its number: chores are numbered on from the servings."""
        stop = self.current_stop
        if stop is None or number > len(stop.states):
            return
        if number > len(stop.servings):
            self._do_chore(stop.chores[number - len(stop.servings) - 1])
            return
        serving = stop.servings[number - 1]
        feed = self.session.room.feeds.get(serving.due.feed)
        if not self.session.is_due(serving):
            state = "waiting to be saved" if serving.state == "due" else serving.state
            self.say(f"{serving.feed_name}: {state} already")
        elif feed is not None:
            self.record_serving(feed)

    def _do_chore(self, each: ChoreDue) -> None:
        """Mark a chore as done; where a screen does it, open that."""
        if not self.session.is_chore_due(each):
            state = "waiting to be saved" if each.state == "due" else each.state
            self.say(f"{each.chore.name}: {state} already")
        elif each.chore.done_by == "reading":
            self.call_later(self.run_action, "read_rack")
        else:
            self.record(lambda: self.session.did(each.chore.id, each.place))

    @work
    async def action_skip(self) -> None:
        """Leave out what is due: why first, so that the first digit is always the reason; then which, of several."""
        stop = self.current_stop
        servings = [serving for serving in stop.servings if self.session.is_due(serving)] if stop else []
        chores = [each for each in stop.chores if self.session.is_chore_due(each)] if stop else []
        if stop is None or not (servings or chores):
            self.say("nothing is due here to skip")
            return
        title = stop_id(stop)
        because = await ask_reason(self.app, title, REASONS if servings else CHORE_REASONS)
        options = [*(self._line(serving) for serving in servings), *(each.chore.name for each in chores)]
        chosen = await ask_which(self.app, title, options) if because else ()
        if because and chosen:
            feeds = [each.due.feed for number, each in enumerate(servings) if number in chosen]
            left = [each for number, each in enumerate(chores, len(servings)) if number in chosen]
            self.record(lambda: self.session.skip(stop.tank, feeds, because, left))
            self.after_skip()

    def after_skip(self) -> None:
        """Something was left out; the round goes on where nothing more is due at its stop."""

    @work
    async def action_amount(self) -> None:
        """Give one due serving in another amount."""
        stop = self.current_stop
        due = [serving for serving in stop.servings if self.session.is_due(serving)] if stop else []
        if stop is None or not due:
            self.say(f"nothing is due here; {self.key('extra')} gives a feed that is not")
            return
        title = f"{stop.tank}: another amount of what?"
        chosen = await self.app.push_screen_wait(Choose(title, [self._line(each) for each in due]))
        if chosen is None:
            return
        serving = due[chosen]
        feed = self.session.room.feeds.get(serving.due.feed)
        if feed is None:
            self.say(f"{serving.feed_name} is no longer in the room file")
            return
        amount = await ask_amount(self.app, self.session, serving.due.tank, feed, serving.due)
        if amount is not None:
            self.record_serving(feed, amount)

    def _line(self, serving: RoundServing) -> str:
        due, held = serving.due, "  (hold back)" if serving.held else ""
        dose = given_text(self.session.room, self.session.doses, due)
        return f"{serving.feed_name}, {dose}{held}"

    @work
    async def action_extra(self) -> None:
        """Give a feed that is not due here."""
        tank_id = self.current_tank
        if tank_id is None:
            return
        tank, stop = self.session.room.tanks[tank_id], self.current_stop
        due = {serving.due.feed for serving in stop.servings if serving.state == "due"} if stop else set()
        feeds = [self.session.room.feeds[feed] for feed in tank.feeds if feed not in due]
        if not feeds:
            self.say(f"{tank_id}: every feed it takes is due; a digit marks one")
            return
        title = f"{tank_id}: give what?"
        picked = await self.app.push_screen_wait(Choose(title, [self._usual(tank_id, feed) for feed in feeds]))
        if picked is not None:
            self.record_serving(feeds[picked])

    def _usual(self, tank: str, feed: Feed) -> str:
        """A feed with the amount that is given of it where nobody says another one."""
        session = self.session
        what = planned_serving(session.room, session.history, session.day, tank, feed.id, None)
        return f"{feed.name}, {given_text(session.room, session.doses, what)}"

    @work
    async def action_leftovers(self) -> None:
        """Say how much of a feed is lying in the tank."""
        tank = self.current_tank
        feed = None if tank is None else await self._recent_feed(tank, "leftovers of what?")
        if tank is None or feed is None:
            return
        title = f"{tank}: how much {feed.name} is lying?"
        left = await self.app.push_screen_wait(Choose(title, LEFTOVERS))
        if left is not None:
            self.record(lambda: self.session.observe(tank, feed.id, LEFTOVERS[left]))

    @work
    async def action_came(self) -> None:
        """Say how the animals came to a feed."""
        tank = self.current_tank
        feed = None if tank is None else await self._recent_feed(tank, "they came to what?")
        if tank is None or feed is None:
            return
        title = f"{tank}: how did they come to {feed.name}?"
        came = await self.app.push_screen_wait(Choose(title, RESPONSES))
        if came is not None:
            self.record(lambda: self.session.came(tank, feed.id, RESPONSES[came]))

    async def _recent_feed(self, tank: str, question: str) -> Feed | None:
        """One of the feeds that a tank got lately, as picked."""
        feeds = self._recent_feeds(tank)
        if not feeds:
            self.say(f"{tank}: nothing was given here lately")
            return None
        picked = await self.app.push_screen_wait(Choose(f"{tank}: {question}", [each.name for each in feeds]))
        return None if picked is None else feeds[picked]

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
        tank = self.current_tank
        if tank is None:
            return
        text = await self.app.push_screen_wait(Ask(f"{tank}: note"))
        if text is not None:
            self.record(lambda: self.session.note(tank, text))

    def action_open_tank(self) -> None:
        """Show the life of the current tank."""
        if self.current_tank is not None:
            self.rackround.show_tank(self.current_tank)

    def action_count_rack(self) -> None:
        """Count the animals of the current tank's rack."""
        if self.current_tank is not None:
            self.rackround.show_counting(self.current_tank)

    def action_read_rack(self) -> None:
        """Read the water of the current tank's rack."""
        if self.current_tank is not None:
            self.rackround.show_reading(self.current_tank)

    def action_tank_water(self) -> None:
        """Show the current tank's water."""
        if self.current_tank is not None:
            self.rackround.show_water(self.current_tank)

    def action_changed(self) -> None:
        """Show what was different in the current tank and its rack."""
        if self.current_tank is not None:
            self.rackround.show_changes(self.current_tank)

    def action_tank_of(self) -> None:
        """Show the life of the current tank."""
        self.action_open_tank()

    def action_go_there(self) -> None:
        """Go to the tank's stop in the round."""
        if self.current_tank is not None:
            self.rackround.show_stop(self.current_tank)

    def action_reckon(self) -> None:
        """Show how the amounts due at the tank come about."""
        from tui.screens.dialogs.text_dialog import TextDialog, text_width
        from tui.widgets.breakdown import stop_lines

        tank, stop = self.current_tank, self.current_stop
        if tank is not None:
            feeds = (
                [serving.due.feed for serving in stop.servings] if stop else list(self.session.room.tanks[tank].feeds)
            )
            lines = stop_lines(self.session, self.session.room.tanks[tank], feeds, text_width(self.app.size.width))
            self.app.push_screen(TextDialog(f"{tank}: how the amounts come about", lines))

    @work
    async def action_undo(self) -> None:
        """Take back one of this keeper's last acts, or all at the rack of the newest; an unsaved act goes first."""
        from tui.screens.dialogs.taking_back import ask_what

        acts = () if self.session.unsaved else self.session.recent()
        if not acts:
            self.record(self.session.undo)
            return
        chosen = await ask_what(self.app, self.session, acts, self.rackround.key_of("undo"))
        if chosen:
            self.record(lambda: self.session.take_back(chosen))
