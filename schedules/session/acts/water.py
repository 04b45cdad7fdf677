"""The acts at a tank's water: reading it, pouring some in, changing some, dissolving a salt."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import date, timedelta

from schedules.ledger import Reading, SaltAdded, WaterAdded, WaterChanged, What
from schedules.ledger.entries.water.reading import READING
from schedules.ledger.fields import Malformed
from schedules.room.water.quantities import QUANTITIES, Quantity
from schedules.session.acts.writing import Writing
from schedules.session.doubts.water import WaterDoubt, doubt_about_reading, doubt_about_salt, doubt_about_volume
from schedules.session.outcome import Outcome


class WaterActs(Writing):
    """A round in which the water can be read and treated."""

    def read_water(
        self,
        tank: str,
        values: Mapping[Quantity, float],
        *,
        day: date | None = None,
        time: str | None = None,
        anyway: bool = False,
    ) -> Outcome:
        """Record what was read in a tank's water, in the domain's units, today or on a past day, as one act.

        Where a value looks like a slip of the hand, nothing is recorded and the doubt comes back; with `anyway` it is
        recorded. A value that no water can have is never recorded. `time` is HH:MM in the room's zone.
        """
        on = day or self.day
        if not values:
            return self._nothing("no_values", tank)
        if not anyway:
            for quantity, value in values.items():
                doubt = doubt_about_reading(self.room, self.history, self.day, on, tank, quantity, value)
                if doubt is not None:
                    return self._doubted(doubt)
        try:
            read = [Reading(tank, quantity, values[quantity], time) for quantity in QUANTITIES if quantity in values]
        except Malformed as fault:
            return replace(self._nothing("cannot_be_written", tank), fault=f"{tank}: {fault}")
        return self._write("read", read, on)

    def unknown_readings(self, found: Sequence[tuple[date, Reading]]) -> list[tuple[date, Reading]]:
        """Those of some readings that the ledger does not hold yet, each once, by day."""
        first = min((day for day, _ in found), default=self.day)
        known = {(entry.day, entry.what) for entry in self.ledger.of_kind(READING.name, first - timedelta(days=1))}
        return sorted((each for each in dict.fromkeys(found) if each not in known), key=lambda each: each[0])

    def doubts_about(self, found: Sequence[tuple[date, Reading]]) -> list[WaterDoubt]:
        """What looks like a slip among some readings."""
        asked = (
            doubt_about_reading(self.room, self.history, self.day, day, read.tank, read.quantity, read.value)
            for day, read in found
        )
        return [doubt for doubt in asked if doubt is not None]

    def record_readings(self, day: date, read: Sequence[Reading]) -> Outcome:
        """Record readings of one day, of any tanks, as one act and without a question."""
        return self._write("read", read, day)

    def add_water(
        self, tank: str, litres: float, source: str | None = None, *, day: date | None = None, anyway: bool = False
    ) -> Outcome:
        """Record litres of make-up water poured into a tank; `source` None for pure water."""
        on = day or self.day
        doubt = None if anyway else doubt_about_volume(self.room, self.day, on, tank, litres, "add")
        return self._doubted(doubt) if doubt else self._write("add_water", [WaterAdded(tank, litres, source)], on)

    def change_water(
        self, tank: str, litres: float, source: str | None = None, *, day: date | None = None, anyway: bool = False
    ) -> Outcome:
        """Record litres of a tank's water replaced by make-up water; `source` None for pure water."""
        on = day or self.day
        doubt = None if anyway else doubt_about_volume(self.room, self.day, on, tank, litres, "change")
        return self._doubted(doubt) if doubt else self._write("change_water", [WaterChanged(tank, litres, source)], on)

    def add_salt(self, tank: str, salt: str, grams: float, *, day: date | None = None, anyway: bool = False) -> Outcome:
        """Record grams of a salt put into a tank."""
        on = day or self.day
        doubt = None if anyway else doubt_about_salt(self.room, self.day, on, tank, grams)
        return self._doubted(doubt) if doubt else self._write("add_salt", [SaltAdded(tank, salt, grams)], on)

    def pour(
        self,
        tank: str,
        waters: Sequence[tuple[str | None, float]],
        salts: Sequence[tuple[str, float]] = (),
        *,
        change: bool = False,
        day: date | None = None,
        anyway: bool = False,
    ) -> Outcome:
        """Record what was poured into a tank as one act: litres of each water (None for pure), grams of each salt.

        With `change` as much was taken out before. Where an amount looks like a slip of the hand, nothing is recorded
        and the doubt comes back; with `anyway` it is recorded.
        """
        on = day or self.day
        if not waters and not salts:
            return self._nothing("no_values", tank)
        litres = sum(litres for _, litres in waters)
        doubt = doubt_about_volume(self.room, self.day, on, tank, litres, "change" if change else "add")
        for _, grams in salts:
            doubt = doubt or doubt_about_salt(self.room, self.day, on, tank, grams)
        if doubt is not None and not anyway:
            return self._doubted(doubt)
        made = WaterChanged if change else WaterAdded
        poured: list[What] = [made(tank, each, source) for source, each in waters]
        return self._write("pour", [*poured, *(SaltAdded(tank, salt, grams) for salt, grams in salts)], on)

    def _doubted(self, doubt: WaterDoubt) -> Outcome:
        return replace(self._nothing("refused", doubt.tank), doubt=doubt)
