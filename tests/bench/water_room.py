"""Twelve tanks in three racks for a year, by mass balance: what meters would show, and what goes wrong when.

Nothing of the program is used here: salt and heat are reckoned day by day, readings get noise and a meter's last digit.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Final, Literal

import numpy as np

Fault = Literal["drift", "leak", "heater", "cooling", "batch", "meter"]

RACKS: Final = 3
TANKS: Final = 12
IN_RACK: Final = TANKS // RACKS
DAYS: Final = 365
LASTS: Final = 42
"""A fault is found and mended after so many days at the latest."""


@dataclass(frozen=True, slots=True)
class Episode:
    """A fault from a day on in some tanks, seen in one quantity."""

    fault: Fault
    quantity: Literal["tds", "temperature"]
    start: int
    tanks: tuple[int, ...]


@dataclass(slots=True)
class Year:
    """What was read and done: for each tank (day, TDS mg/L, °C), (day, part changed) and (day, part added)."""

    read: list[list[tuple[int, float, float]]]
    changed: list[list[tuple[int, float]]]
    added: list[list[tuple[int, float]]]
    episodes: list[Episode] = field(default_factory=list)
    targets: list[float] = field(default_factory=list)


def episodes_of(random: np.random.Generator, *, faulty: bool) -> list[Episode]:
    """One of each fault in a year, far enough apart that each can be told from the others."""
    if not faulty:
        return []
    starts = 50 + np.arange(6) * 54 - random.integers(0, 6, 6)
    faults: list[Fault] = ["drift", "leak", "heater", "cooling", "batch", "meter"]
    order = random.permutation(6)
    found = []
    for place, number in enumerate(order):
        fault = faults[int(number)]
        tank = int(random.integers(TANKS))
        rack = tank // IN_RACK
        tanks: tuple[int, ...] = (tank,)
        if fault == "batch":
            tanks = tuple(range(rack * IN_RACK, (rack + 1) * IN_RACK))
        if fault == "meter":
            tanks = tuple(range(TANKS))
        quantity: Literal["tds", "temperature"] = "temperature" if fault in ("heater", "cooling") else "tds"
        found.append(Episode(fault, quantity, int(starts[place]), tanks))
    return found


def year_of(seed: int, every: tuple[int, ...], *, faulty: bool = True) -> Year:
    """A year; the tanks are read on the weekdays `every` (0 to 6)."""
    random = np.random.default_rng(seed)
    target = random.uniform(130, 260, TANKS)
    setpoint = random.uniform(22.0, 24.5, TANKS)
    evaporation = random.uniform(0.006, 0.014, TANKS)  # part of the tank a day, as from an open or half-covered tank
    changes = random.uniform(0.08, 0.18, TANKS)
    feed = random.uniform(0.1, 0.5, TANKS)  # mg/L a day that feed leaves
    change_day, top_day = random.integers(0, 7, RACKS), random.integers(0, 7, TANKS)
    year = Year([[] for _ in range(TANKS)], [[] for _ in range(TANKS)], [[] for _ in range(TANKS)])
    year.episodes, year.targets = episodes_of(random, faulty=faulty), [float(each) for each in target]
    solids, volume = target.copy(), np.ones(TANKS)  # mg for each litre of the full tank; part of the full tank
    wander, season = np.zeros(TANKS), random.uniform(0, DAYS)
    room, gain = 0.0, 0.0
    heat = np.zeros(TANKS)
    for day in range(DAYS):
        volume -= evaporation
        solids += feed
        active = {each.fault: each for each in year.episodes if each.start <= day < each.start + LASTS}
        _faults(active, solids, heat)
        for tank in range(TANKS):
            _care(year, active, day, tank, solids, volume, target, changes, change_day, top_day, random)
        _mend(year, day, solids, heat, target)
        wander = 0.7 * wander + random.normal(0, 0.12, TANKS)
        room = 0.8 * room + random.normal(0, 0.1)
        warm = setpoint + 0.5 * np.sin(2 * np.pi * (day - season) / DAYS) + wander + room + heat
        gain = -0.004 * (day - active["meter"].start) if "meter" in active else 0.0
        if day % 7 in every:
            of_day = random.normal(0, 0.005)  # how well the meter was rinsed and settled today
            for tank in range(TANKS):
                shown = solids[tank] / volume[tank] * (1 + gain + of_day + random.normal(0, 0.012))
                year.read[tank].append((day, float(round(shown)), float(round(warm[tank] + random.normal(0, 0.08), 1))))
    return year


def _faults(active: dict[Fault, Episode], solids: np.ndarray, heat: np.ndarray) -> None:
    if "drift" in active:  # stone that dissolves: 0.8 % a day
        (tank,) = active["drift"].tanks
        solids[tank] *= 1.008
    if "leak" in active:  # 1.2 % of the tank a day runs out and is topped off with pure water
        (tank,) = active["leak"].tanks
        solids[tank] *= 1 - 0.012
    if "heater" in active:  # stuck on: 4 °C above within some days
        (tank,) = active["heater"].tanks
        heat[tank] += (4.0 - heat[tank]) / 3
    if "cooling" in active:  # a heater that fails slowly: 0.12 °C a day, down to the room's temperature
        (tank,) = active["cooling"].tanks
        heat[tank] = max(heat[tank] - 0.12, -4.0)


def _care(
    year: Year,
    active: dict[Fault, Episode],
    day: int,
    tank: int,
    solids: np.ndarray,
    volume: np.ndarray,
    target: np.ndarray,
    changes: np.ndarray,
    change_day: np.ndarray,
    top_day: np.ndarray,
    random: np.random.Generator,
) -> None:
    """Topped off once a week with pure water, and a part changed once a week for water mixed to the target."""
    if day % 7 == top_day[tank]:
        year.added[tank].append((day, float(1 - volume[tank])))
        volume[tank] = 1.0
    if day % 7 == change_day[tank // IN_RACK]:
        part = float(changes[tank] * random.uniform(0.9, 1.1))
        batch = target[tank] * (1 + random.normal(0, 0.02))
        if "batch" in active and tank in active["batch"].tanks:
            batch *= 1.9
        solids[tank] += part * (batch - solids[tank] / volume[tank])
        year.changed[tank].append((day, part))


def _mend(year: Year, day: int, solids: np.ndarray, heat: np.ndarray, target: np.ndarray) -> None:
    """What was wrong is put right on the last day: half of the water is changed, or the heater replaced."""
    for each in year.episodes:
        if day != each.start + LASTS or each.fault == "meter":
            continue
        for tank in each.tanks:
            if each.quantity == "temperature":
                heat[tank] = 0.0
            else:
                solids[tank] = target[tank]
                year.changed[tank].append((day, 0.6))
