"""How long the longest morning is without chores, with all of them on their first day, and with spreading.

`python -m tests.bench.chores_days`: the invented breeding room (48 tanks) with its own chores, and with each template.
Four weeks of its plan, in minutes at the tanks; and what working out today's chores takes.
"""

from __future__ import annotations

import sys
import tempfile
from collections.abc import Callable, Sequence
from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path
from statistics import mean
from time import process_time
from typing import Final

from schedules.chores import turns_due
from schedules.chores.spreading import Spreading
from schedules.planning.posting import plan_days
from schedules.room import Room
from schedules.room.chores import Chore
from schedules.room_file import load_room_text
from schedules.room_file.schema.chore_templates import TEMPLATES
from schedules.session.session import Session
from tests.pictures import demo_session

DAYS: Final = 28
HEAD: Final = 'name = "x"\ntime_zone = "Europe/Vienna"\n'


def main() -> None:
    """Print both tables."""
    with tempfile.TemporaryDirectory() as folder:
        session = demo_session(Path(folder))
        feeding = _feeding(session)
        _row("chores", "longest day: feeding", "all on the first day", "spread", "mean", "ms for today")
        _measure("its own six", session.room, session, feeding)
        _measure("all ten templates", replace(session.room, chores=_templates(session.room)), session, feeding)


def _feeding(session: Session) -> dict[date, float]:
    """Minutes at the tanks of each planned day."""
    _, plan = plan_days(session.room, session.history, session.day, DAYS)
    found = {session.day + timedelta(days=number): 0.0 for number in range(DAYS)}
    for slot in plan.slots:
        found[session.day + timedelta(days=slot.day)] += session.room.tanks[slot.tank].feeds[slot.feed].minutes
    return found


def _templates(room: Room) -> tuple[Chore, ...]:
    """Every template from four weeks ago on, each on another weekday."""
    tanks = "".join(
        f'[[racks.tanks]]\nid = "{tank.id}"\nvolume = 40\nquarantine = {str(tank.quarantine).lower()}\n'
        for tank in room.tanks.values()
    )
    chores = "".join(
        f'[[chores]]\ntemplate = "{name}"\nfrom = 2026-10-{19 + number % 7}\n' for number, name in enumerate(TEMPLATES)
    )
    feed = '[[feeds]]\nid = "plain"\nkind = "staple"\n'
    return load_room_text(f'{HEAD}{chores}{feed}[[racks]]\nid = "all"\n{tanks}', "templates").chores


def _measure(name: str, room: Room, session: Session, feeding: dict[date, float]) -> None:
    spread = Spreading(room)
    naive, level = (_days(feeding, of) for of in (spread.minutes_unspread, spread.minutes))
    begun = process_time()
    turns_due(room, session.history, session.day)
    taken = (process_time() - begun) * 1000
    _row(name, max(feeding.values()), max(naive), max(level), mean(level), taken)


def _days(feeding: dict[date, float], chores: Callable[[date], float]) -> Sequence[float]:
    return [minutes + chores(day) for day, minutes in feeding.items()]


def _row(*cells: str | float) -> None:
    said = (cell if isinstance(cell, str) else f"{cell:.0f}" for cell in cells)
    sys.stdout.write(f"| {' | '.join(said)} |\n")


if __name__ == "__main__":
    main()
