"""One key at a tank, then what was seen of its animals, then about how many."""

from __future__ import annotations

from typing import Final

from textual import work

from schedules.ledger import LedgerFault, Saw, Sighting
from schedules.room.heads import CLASSES, MOST_HEADS, Heads
from schedules.room.kinds import STAGES, Stage
from schedules.round.fresh_hatch import fine_after_hatch
from schedules.session.doubts.animals import stage_meant
from schedules.wording.entries import STAGE_TEXT, feed_name
from schedules.wording.refusals import doubt_text
from tui.screens.bases.tank_acts import TankActs
from tui.screens.dialogs.ask import Ask
from tui.screens.dialogs.choose import Choose
from tui.widgets.cells import unbracketed

SEEN: Final[dict[Saw, str]] = {
    "hatch": "a hatch",
    "berried": "berried females",
    "eyed": "eggs with eyes",
    "dead": "dead animals",
    "count": "so many are there",
    "moved": "moved to another tank",
    "sold": "sold",
    "culled": "culled",
    "added": "new stock",
}
"""What can be seen, the most frequent first: the digits stay the same."""
OF_ADULTS: Final[frozenset[Saw]] = frozenset(("hatch", "berried", "eyed"))
"""What says by itself of which stage it is."""


class AnimalsActs(TankActs):
    """A screen with a current tank of whose animals something can be written down."""

    @work
    async def action_animals(self) -> None:
        """Write down what was seen of the tank's animals."""
        tank = self.current_tank
        if tank is None:
            return
        seen = list(SEEN)
        picked = await self.app.push_screen_wait(Choose(f"{tank}: what was seen?", list(SEEN.values())))
        if picked is None:
            return
        heads = await self._heads(tank, seen[picked])
        if heads is None:
            return
        stage = await self._stage(tank, seen[picked])
        to = await self._target(tank) if seen[picked] == "moved" else None
        if stage is None or (seen[picked] == "moved" and to is None):
            return
        berried = await self._berried(tank, heads) if to is not None and stage == "adult" else None
        self._record_sighting(Sighting(tank, seen[picked], stage, heads.number, heads.exact, to=to, berried=berried))

    def action_for_young(self) -> None:
        """Give fine feed for a hatch that was seen today, where none is due."""
        tank, session = self.current_tank, self.session
        if tank is None or tank not in session.room.tanks:
            return
        made = fine_after_hatch(session.room, session.history, session.day, tank)
        if made is None:
            self.say("no hatch was seen here today, or fine feed is due or given already")
        else:
            self.record(lambda: session.give(tank, made.feed, made.amount))

    def _offer(self, what: Sighting) -> None:
        """Say that fine feed can be given for a hatch that is news today."""
        session = self.session
        made = fine_after_hatch(session.room, session.history, session.day, what.tank)
        if what.saw == "hatch" and made is not None:
            name = unbracketed(feed_name(session.room, made.feed))
            text = f"{what.tank}: {what.number.text} hatched; {self.key('for_young')} gives {name}"
            self.say(text, f"{self.key('undo')} takes it back")

    async def _heads(self, tank: str, saw: Saw) -> Heads | None:
        """About how many, or a number that is typed."""
        options = [*(f"about {each}" if each > 1 else "1" for each in CLASSES), "another number"]
        picked = await self.app.push_screen_wait(Choose(f"{tank}, {SEEN[saw]}: how many?", options))
        if picked is None:
            return None
        if picked < len(CLASSES):
            number = list(CLASSES)[picked]
            return Heads(number, number == 1)
        least = 0 if saw in ("count", "berried", "eyed") else 1
        title = f"{tank}, {SEEN[saw]}: how many?"
        typed = await self.app.push_screen_wait(Ask(title, limit=6, check=lambda text: _fault(text, least)))
        return None if typed is None else Heads(int(typed))

    async def _stage(self, tank: str, saw: Saw) -> Stage | None:
        """The stage; asked only where several are there."""
        room, day = self.session.room, self.session.day
        there = [stage for stage in STAGES if room.tanks[tank].count(stage, day)]
        if saw in OF_ADULTS or (len(there) < 2 and saw != "added"):
            return stage_meant(room.tanks[tank], saw, day)
        stages = list(STAGES) if saw in ("added", "count") else there
        picked = await self.app.push_screen_wait(Choose(f"{tank}: of which?", [STAGE_TEXT[each] for each in stages]))
        return None if picked is None else stages[picked]

    async def _berried(self, tank: str, heads: Heads) -> int | None:
        """How many of the adults that are moved carry eggs; asked only where some are expected to hatch."""
        known = sum(brood.heads for brood in self.session.life.broods if brood.tank == tank)
        if not known:
            return None
        options = ["nobody looked", "none", *(str(number) for number in range(1, min(known, heads.range[1], 7) + 1))]
        picked = await self.app.push_screen_wait(Choose(f"{tank}: how many of them are berried?", options))
        return picked - 1 if picked else None

    async def _target(self, tank: str) -> str | None:
        others = [each for each in self.session.room.walk if each != tank]
        title, hint = f"{tank}: moved to which tank? Its id", "enter keeps it; esc lets it go"
        typed = await self.app.push_screen_wait(Ask(title, hint, check=lambda text: _tank_fault(text, others)))
        return None if typed is None else _tank_named(typed, others)

    def _record_sighting(self, what: Sighting) -> None:
        """Record it, asking whether to insist where something speaks against it."""
        try:
            outcome = self.session.saw(what)
        except LedgerFault as fault:
            self.say(f"NOT SAVED. {fault}")
            return
        if outcome.doubt is None:
            self.after(outcome)
            self._offer(what)
        else:
            self._insist_on(what, doubt_text(self.session.room, outcome.doubt))

    @work
    async def _insist_on(self, what: Sighting, text: str) -> None:
        if await self.app.push_screen_wait(Choose(text, ("leave it", "it is so all the same"))) == 1:
            self.record(lambda: self.session.saw(what, anyway=True))


def _fault(typed: str, least: int) -> str:
    text = typed.strip()
    if text.isascii() and text.isdigit() and least <= int(text) <= MOST_HEADS:
        return ""
    return f'"{text}" is no number of animals: type a whole number from {least} to {MOST_HEADS}'


def _tank_named(typed: str, tanks: list[str]) -> str | None:
    return next((tank for tank in tanks if tank.casefold() == typed.strip().casefold()), None)


def _tank_fault(typed: str, tanks: list[str]) -> str:
    return (
        "" if _tank_named(typed, tanks) else f'there is no other tank "{typed.strip()}"; known are {", ".join(tanks)}'
    )
