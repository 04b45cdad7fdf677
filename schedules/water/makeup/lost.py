"""How many litres a tank has lost by what the ledger says of it: read off dissolved solids, else what is usual."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import Final

from schedules.history import History
from schedules.ledger import Entry, Reading, WaterAdded
from schedules.room import Room, Tank
from schedules.water.makeup.held import Held, held, reading_of
from schedules.water.makeup.loss import Loss, loss_by_tds

FULL_DAYS: Final = 28
"""A tank that was never topped off on record is taken to have been full at its first reading of so many days."""


@dataclass(frozen=True, slots=True)
class Lost:
    """A loss, and since when: the day on which the tank is taken to have been full. `solids` it is read off, mg/L."""

    loss: Loss
    since: date
    solids: tuple[float, float] | None = None


def lost(room: Room, history: History, tank: Tank, day: date) -> Lost | None:
    """Litres lost until a day: by solids where they were read after all that was poured in, else by the usual loss."""
    entries = [entry for entry in history.water_of(tank.id) if entry.day <= day]
    return _by_solids(room, tank, entries, day) or _as_usual(entries, day)


def usual_loss(entries: Sequence[Entry]) -> float | None:
    """Litres a day that were poured in on top, from the second time on; None until there were two days of it."""
    poured = [(entry.day, entry.what.litres) for entry in entries if isinstance(entry.what, WaterAdded)]
    if not poured or poured[-1][0] == poured[0][0]:
        return None
    first = poured[0][0]
    return sum(litres for at, litres in poured if at > first) / (poured[-1][0] - first).days


def _as_usual(entries: Sequence[Entry], day: date) -> Lost | None:
    daily = usual_loss(entries)
    if daily is None:
        return None
    last = max(entry.day for entry in entries if isinstance(entry.what, WaterAdded))
    return Lost(Loss(daily * (day - last).days, None, "usual"), last)


def _by_solids(room: Room, tank: Tank, entries: Sequence[Entry], day: date) -> Lost | None:
    """By V·(1 - TDS₀/TDS): TDS now is the last reading, TDS₀ what the tank held when it was last full."""
    solids = [reading_of(room, entry, "tds") for entry in entries]
    read = [number for number, value in enumerate(solids) if value is not None]
    acts = [number for number, entry in enumerate(entries) if not isinstance(entry.what, Reading)]
    if not read or (acts and acts[-1] > read[-1]):
        return None
    full = _full(room, tank, entries[: read[-1]], acts, day)
    now = solids[read[-1]]
    if full is None or now is None or full.day is None or full.value <= 0 or now <= 0:
        return None
    return Lost(loss_by_tds(tank.litres, full.value, now), full.day, (full.value, now))


def _full(room: Room, tank: Tank, before: Sequence[Entry], acts: Sequence[int], day: date) -> Held | None:
    """What the tank held when it was last full: as read on the day of the last act, else by what that act did.

    Where neither is known, the first reading after it stands for it, or the first one of `FULL_DAYS`.
    """
    last = acts[-1] if acts else -1
    read = [entry for entry in before[last + 1 :] if reading_of(room, entry, "tds") is not None]
    if not acts:
        read = [entry for entry in read if (day - entry.day).days <= FULL_DAYS]
    elif not read or read[0].day != before[last].day:
        worked_out = held(room, tank, before[: last + 1], "tds")
        if worked_out is not None:
            return worked_out
    value = reading_of(room, read[0], "tds") if read else None
    return None if value is None else Held(value, read[0].day, full=True)
