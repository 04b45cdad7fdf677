"""The hatches that are expected: when, of which tank, and what has passed with nothing seen."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
from typing import Literal

from schedules.history.life import Life
from schedules.history.life.hatching import Window, given_up, hatch_window
from schedules.room import Room
from schedules.room.clocks import FILM_BEFORE_HATCH_DAYS
from schedules.room.heads import BROOD

State = Literal["coming", "due", "passed", "unknown", "in_file"]


@dataclass(frozen=True, slots=True)
class Expected:
    """A hatch to come in a tank.

    - `coming`: its window begins later; `due`: it is open; `passed`: it is over and nothing was seen.
    - `unknown`: the water is colder or warmer than any for which a time is published, so there is no window.
    - `in_file`: the room file has shrimplets from that day on.

    `heads` is how many young are counted on, `film_from` the day from which the plan gives film for them.
    """

    tank: str
    state: State
    females: int
    heads: int
    berried: date | None
    eyed: date | None
    window: Window | None
    film_from: date | None
    temperature: float | None


def expected_hatches(room: Room, life: Life, today: date) -> tuple[Expected, ...]:
    """What is expected from today on, the next first; `room` has the animals as they were seen."""
    found = [*_broods(room, life, today), *_in_file(room, today)]
    return tuple(sorted(found, key=lambda each: (each.window.first if each.window else date.max, each.tank)))


def _broods(room: Room, life: Life, today: date) -> list[Expected]:
    found = []
    for brood in life.broods:
        tank = room.tanks.get(brood.tank)
        if tank is None or today >= given_up(brood, tank.water.temperature):
            continue
        window = hatch_window(brood, tank.water.temperature)
        state: State = "unknown"
        if window is not None:
            state = "passed" if window.last < today else "due" if window.first <= today else "coming"
        film = None if window is None else window.first - timedelta(days=FILM_BEFORE_HATCH_DAYS)
        females, celsius = brood.heads, tank.water.temperature
        found.append(
            Expected(tank.id, state, females, females * BROOD, brood.berried, brood.eyed, window, film, celsius)
        )
    return found


def _in_file(room: Room, today: date) -> list[Expected]:
    return [
        Expected(
            tank.id,
            "in_file",
            *(0, here.count, None, None, Window(here.first, here.first)),
            here.first - timedelta(days=FILM_BEFORE_HATCH_DAYS),
            tank.water.temperature,
        )
        for tank in room.tanks.values()
        for here in tank.animals
        if here.stage == "shrimplet" and not here.expected and not here.goes_on and here.first and here.first > today
    ]
