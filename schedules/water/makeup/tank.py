"""One tank: what to pour in now and why, what the tank holds after, the changes it needs, what builds up in it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Final, Literal

from schedules.history import History
from schedules.ledger import Entry
from schedules.room import Room, Tank
from schedules.room.water.rules import Band
from schedules.water.makeup.advice import Pour, WaterChange, best_change, best_pour, swing_of, waters_of
from schedules.water.makeup.cautions import Caution, cautions_for
from schedules.water.makeup.held import held
from schedules.water.makeup.known import bands_of, middle_of, minerals_of, top_off_water
from schedules.water.makeup.loss import Loss, loss_by_level
from schedules.water.makeup.lost import Lost, lost
from schedules.water.makeup.minerals import DISSOLVED, Dissolved, Minerals, TankWater
from schedules.water.makeup.seen import BuildUp, build_up

LEAST_ROOM: Final = 0.1
"""Below this part of a day's limit nothing more is changed on that day. Common practice, no source."""
NoLoss = Literal["no_area", "no_readings", "too_much"]


@dataclass(frozen=True, slots=True)
class TopOff:
    """What one tank needs.

    - `lost`: litres gone, how far off that may be, since when; None where `unknown` says why: `no_area` for a level
      without the tank's inside, `no_readings` for neither readings nor earlier top-offs, `too_much` for more than half.
    - `now`: what it holds by its last readings; `bands`: what it is to hold.
    - `pour`: what to pour in, None where nothing is lost. `change`: the changes it needs then, None where none;
      `change_today`: litres of it that today's top-off leaves room for within the daily limits.
    - `build_up`: what stays behind, None where nothing was topped off since the last change.
    """

    tank: str
    day: date
    lost: Lost | None
    unknown: NoLoss | None
    now: Minerals
    bands: Mapping[Dissolved, Band]
    pour: Pour | None
    change: WaterChange | None
    change_today: float
    build_up: BuildUp | None
    cautions: tuple[Caution, ...]


def tank_top_off(
    room: Room,
    history: History,
    tank: Tank,
    day: date,
    *,
    drop_mm: float | None = None,
    litres: float | None = None,
    wanted: Minerals | None = None,
) -> TopOff:
    """What a tank needs on a day. Litres lost are `litres`, or follow from a fall of the level by `drop_mm`.

    Without either they are read off dissolved solids, or else are the usual ones. Make-up water is made as `wanted`,
    without it for the middle of the tank's bands.
    """
    bands, entries = bands_of(room, tank), [entry for entry in history.water_of(tank.id) if entry.day <= day]
    waters = waters_of(room, middle_of(bands) if wanted is None else wanted)
    gone = _lost(room, history, tank, day, drop_mm, litres)
    unknown = _unknown(tank, gone, drop_mm)
    away = 0.0 if gone is None or unknown is not None else gone.loss.litres
    now = _now(room, tank, entries, away)
    pour = best_pour(room, TankWater(tank.litres - away, now), away, bands, waters) if away > 0 else None
    then = now if pour is None else pour.after
    change = best_change(then, bands, waters)
    used = [water for water, _ in pour.parts] if pour is not None else []
    used += [change.water] if change is not None and change.water is not None else []
    return TopOff(
        tank=tank.id,
        day=day,
        lost=gone,
        unknown=unknown,
        now=now,
        bands=bands,
        pour=pour,
        change=change,
        change_today=tank.litres * _first_part(now, bands, pour, change),
        build_up=build_up(room, history, tank, day, then, bands, minerals_of(room, top_off_water(room))),
        cautions=cautions_for(
            salts=any(water.grams for water in used), changes=change is not None and change.water is not None
        ),
    )


def _first_part(now: Minerals, bands: Mapping[Dissolved, Band], pour: Pour | None, change: WaterChange | None) -> float:
    """The part of the water to change today: of the plan's first part what the top-off's own move leaves room for."""
    if change is None or change.plan is None or not change.plan.parts:
        return 0.0
    room = 1.0
    for quantity in DISSOLVED:
        here, then = now.of(quantity), None if pour is None else pour.after.of(quantity)
        if here is not None and then is not None:
            room = min(room, 1 - abs(then - here) / swing_of(quantity, bands.get(quantity), here))
    # A part scaled down moves the water less in the same measure.
    return change.plan.parts[0] * room if room >= LEAST_ROOM and (pour is None or len(pour.days) == 1) else 0.0


def _unknown(tank: Tank, gone: Lost | None, drop_mm: float | None) -> NoLoss | None:
    if gone is None:
        return "no_readings" if drop_mm is None else "no_area"
    return "too_much" if gone.loss.litres > tank.litres / 2 else None


def _now(room: Room, tank: Tank, entries: Sequence[Entry], away: float) -> Minerals:
    """What the tank holds with so many litres gone; a value of the full tank has risen since."""
    found: dict[str, float] = {}
    for quantity in DISSOLVED:
        value = held(room, tank, entries, quantity)
        if value is not None:
            found[quantity] = value.value * (tank.litres / (tank.litres - away) if value.full else 1.0)
    return Minerals(**found)


def _lost(
    room: Room, history: History, tank: Tank, day: date, drop_mm: float | None, litres: float | None
) -> Lost | None:
    if litres is not None:
        return Lost(Loss(litres, None, "litres"), day)
    if drop_mm is not None:
        return None if tank.footprint_cm2 is None else Lost(loss_by_level(tank.footprint_cm2, drop_mm), day)
    return lost(room, history, tank, day)
