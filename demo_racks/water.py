"""What was read in the water of the invented breeding room: steady tanks, one that drifts, a rack with a wrong batch.

Meters were read twice a week for eight weeks. All of it is invented.
"""

from __future__ import annotations

from itertools import pairwise
from random import Random
from typing import Final

from schedules.ledger import Reading, WaterAdded, WaterChanged, What

READ_DAYS: Final = tuple(day for week in range(8, 0, -1) for day in (7 * week - 2, 7 * week - 5))
"""So many days ago, the longest ago first; the last two days ago."""
DRIFTING: Final = ("l4", 14)
"""A tank in which dissolved solids rise, and since so many days ago: a new stone."""
WRONG_BATCH: Final = ("north", 3)
"""A rack whose water was changed so many days ago for some that was mixed too strong."""
SOLIDS: Final = {
    **{f"l{number}": 150 + 7 * number for number in range(1, 7)},
    **{f"n{number}": 215 + 6 * number for number in range(1, 9)},
}
"""Tanks and their dissolved solids, mg/L."""
CELSIUS: Final = {"l": 23.0, "n": 20.5}
"""°C by rack."""
CHANGED_LITRES: Final = 6.0
DAILY_LITRES: Final = 0.4
"""So much evaporates in each tank; what has gone is made up with pure water once the meters were read."""


def water_past() -> tuple[tuple[int, What], ...]:
    """How many days ago, and what."""
    chance = Random(16)
    past: list[tuple[int, What]] = []
    for days_ago in READ_DAYS:
        for tank, solids in SOLIDS.items():
            celsius = CELSIUS[tank[0]] + chance.gauss(0, 0.12)
            past.append((days_ago, Reading(tank, "temperature", round(celsius, 1))))
            shown = solids * _risen(tank, days_ago) * (1 + chance.gauss(0, 0.008))
            past.append((days_ago, Reading(tank, "tds", float(round(shown)))))
    past += [
        (days_ago, WaterAdded(tank, round(DAILY_LITRES * (longer_ago - days_ago), 1)))
        for longer_ago, days_ago in pairwise(READ_DAYS)
        for tank in SOLIDS
    ]
    past += [(7 * week + 3, WaterChanged(tank, CHANGED_LITRES, "mixed")) for tank in SOLIDS for week in range(8)]
    return tuple(past)


def _risen(tank: str, days_ago: int) -> float:
    drifting, since = DRIFTING
    if tank == drifting and days_ago < since:
        return 1 + 0.011 * (since - days_ago)
    if tank.startswith("n") and days_ago < WRONG_BATCH[1]:
        return 1.14
    return 1.0
