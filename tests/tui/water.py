"""The small room with eight weeks of readings: in b2 the dissolved solids drift, and this week the whole rack moved."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path
from typing import Final

from schedules.ledger import Reading, WaterAdded, WaterChanged, What
from schedules.session.session import Session
from tests.tui.rooms import NOW, day, make_session, room_text

RULES: Final = """
[water]
read = ["temperature", "tds"]

[water.bands]
tds = { low = 160, high = 210, highest = 260 }
temperature = { low = 21, high = 25 }
"""
WEEKS: Final = 8
RACK: Final = ("a1", "a2", "a3", "b1", "b2")
NOISE: Final = (0, 2, -1, 1, -2, 0, 1, -1)


def water_session(folder: Path, *, batch: bool = False) -> Session:
    """The room, read twice a week; with `batch`, dissolved solids rose by a fifth in all tanks at the last reading."""
    session = make_session(folder, room_text(also=RULES))
    for number, back in enumerate(range(7 * WEEKS, -1, -4)):
        for place, tank in enumerate(RACK):
            noise = NOISE[(number + 3 * place) % len(NOISE)]
            drift = max(0.0, 26 - back) * 1.2 if tank == "b2" else 0.0
            tds = (175 + noise + drift) * (1.2 if batch and back == 0 else 1)
            read: list[What] = [Reading(tank, "temperature", 23.4 + noise / 10), Reading(tank, "tds", round(tds))]
            session.ledger.append(read, day=day(back), at=NOW - timedelta(days=back), by="Ben")
    session.ledger.append([WaterChanged("b2", 4, None)], day=day(40), at=NOW - timedelta(days=40), by="Ben")
    session.ledger.append([WaterAdded("b2", 1, None)], day=day(12), at=NOW - timedelta(days=12), by="Ben")
    session.catch_up()
    return session
