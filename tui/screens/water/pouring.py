"""Writing down water that was poured in or changed, and salts: litres typed, the water picked."""

from __future__ import annotations

from collections.abc import Callable

from textual import work

from schedules.ledger import LedgerFault
from schedules.room.units import gallons_from_litres, litres_from_gallons, number_text
from schedules.session.outcome import Outcome
from schedules.water.makeup import tank_top_off
from schedules.water.makeup.known import PURE_ID, top_off_water
from schedules.wording.entries import RoomNames
from schedules.wording.refusals import doubt_text
from tui.screens.bases.tank_acts import TankActs
from tui.screens.dialogs.amounts import amount_fault, amount_of
from tui.screens.dialogs.ask import Ask
from tui.screens.dialogs.choose import Choose


class PouringActs(TankActs):
    """A screen with a current tank into which water can be poured."""

    @work
    async def action_topped_off(self) -> None:
        """Write down water that was poured in for what evaporated."""
        tank = self.current_tank
        if tank is None:
            return
        litres = await self._litres(tank, "poured in", self._advised(tank))
        source = None if litres is None else await self._source(tank)
        if litres is not None and source is not None:
            water = source or None
            self._poured(lambda anyway: self.session.add_water(tank, litres, water, anyway=anyway))

    @work
    async def action_water_changed(self) -> None:
        """Write down water that was taken out and replaced."""
        tank = self.current_tank
        if tank is None:
            return
        litres = await self._litres(tank, "changed", "")
        source = None if litres is None else await self._source(tank)
        if litres is not None and source is not None:
            water = source or None
            self._poured(lambda anyway: self.session.change_water(tank, litres, water, anyway=anyway))

    @work
    async def action_salted(self) -> None:
        """Write down a salt that was put in."""
        tank, salts = self.current_tank, self.session.room.salts
        if tank is None or not salts:
            self.say("the room file names no salts")
            return
        names = list(salts)
        picked = 0
        if len(names) > 1:
            chosen = await self.app.push_screen_wait(
                Choose(f"{tank}: which salt?", [salts[each].name for each in names])
            )
            if chosen is None:
                return
            picked = chosen
        salt = names[picked]
        title = f"{tank}: how many grams of {salts[salt].name}?"
        typed = await self.app.push_screen_wait(Ask(title, limit=8, check=amount_fault))
        grams = None if typed is None else amount_of(typed)
        if grams is not None:
            self._poured(lambda anyway: self.session.add_salt(tank, salt, grams, anyway=anyway))

    def _advised(self, tank: str) -> str:
        """How much is gone, where that is known."""
        session = self.session
        need = tank_top_off(session.room, session.history, session.room.tanks[tank], session.day)
        if need.lost is None or need.unknown is not None:
            return ""
        litres = need.lost.loss.litres
        known = gallons_from_litres(litres) if session.room.units.us else litres
        return f" About {number_text(known, 2)} are gone."

    async def _litres(self, tank: str, done: str, advice: str) -> float | None:
        """How much, typed in the room's unit of volume; None for nothing."""
        us = self.session.room.units.us
        title = f"{tank}: how many {'gallons' if us else 'litres'} were {done}?{advice}"
        typed = await self.app.push_screen_wait(Ask(title, limit=8, check=amount_fault))
        amount = None if typed is None else amount_of(typed)
        return litres_from_gallons(amount) if amount is not None and us else amount

    async def _source(self, tank: str) -> str | None:
        """The water, empty for pure water; None for no answer. With pure water alone there is nothing to ask."""
        room = self.session.room
        sources = ["", *(each for each in room.waters if each != PURE_ID)]
        if len(sources) == 1:
            return ""
        usual = top_off_water(room) or ""
        names = [RoomNames(room).water(source or None) for source in sources]
        title = f"{tank}: which water?"
        picked = await self.app.push_screen_wait(Choose(title, names, start=sources.index(usual)))
        return None if picked is None else sources[picked]

    def _poured(self, act: Callable[[bool], Outcome]) -> None:
        """Record it; where it is questioned, ask whether to insist."""
        try:
            outcome = act(False)
        except LedgerFault as fault:
            self.say(f"NOT SAVED. {fault}")
            return
        if outcome.doubt is None:
            self.after(outcome)
        else:
            self._insist_on_pour(doubt_text(self.session.room, outcome.doubt), act)

    @work
    async def _insist_on_pour(self, text: str, act: Callable[[bool], Outcome]) -> None:
        if await self.app.push_screen_wait(Choose(text, ("leave it", "it was so all the same"))) == 1:
            self.record(lambda: act(True))
