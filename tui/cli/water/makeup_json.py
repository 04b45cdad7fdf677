"""What `topoff` and `makeup` print as JSON: litres, mg/L, German degrees, grams."""

from __future__ import annotations

from typing import Any

from schedules.room import Room
from schedules.water.makeup import Batch, BuildUp, MakeUp, MakeUpWater, Pour, TopOff, WaterChange
from schedules.water.makeup.cautions import SOURCES, Caution
from schedules.water.makeup.lost import Lost
from schedules.water.makeup.minerals import DISSOLVED, Minerals
from schedules.wording.water.cautions import CAUTIONS


def top_off_json(room: Room, need: TopOff) -> dict[str, Any]:
    """What one tank needs."""
    return {
        "tank": need.tank,
        "date": need.day.isoformat(),
        "lost": None if need.lost is None else _lost(need.lost),
        "unknown": need.unknown,
        "holds": _minerals(need.now),
        "bands": {each: {"low": band.low, "high": band.high, "daily": band.daily} for each, band in need.bands.items()},
        "pour": None if need.pour is None else _pour(need.pour),
        "change": None if need.change is None else _change(need.change, room.tanks[need.tank].litres),
        "change_today": need.change_today,
        "built_up": None if need.build_up is None else _built_up(need.build_up),
        "cautions": [_caution(each) for each in need.cautions],
    }


def make_up_json(room: Room, found: MakeUp, rack: str | None) -> dict[str, Any]:
    """What a rack needs."""
    return {
        "date": found.day.isoformat(),
        "rack": rack,
        "batches": [_batch(each) for each in found.batches],
        "tanks": [top_off_json(room, each) | {"cautions": []} for each in found.tanks],
        "unknown": list(found.unknown),
        "cautions": [_caution(each) for each in found.cautions],
    }


def _lost(lost: Lost) -> dict[str, Any]:
    solids = None if lost.solids is None else {"before": lost.solids[0], "now": lost.solids[1]}
    return {
        "litres": lost.loss.litres,
        "error": lost.loss.error,
        "by": lost.loss.by,
        "since": lost.since.isoformat(),
        "solids": solids,
    }


def _minerals(minerals: Minerals) -> dict[str, float | None]:
    return {each: minerals.of(each) for each in DISSOLVED}


def _water(water: MakeUpWater) -> dict[str, Any]:
    return {"water": water.source, "grams_per_litre": dict(water.grams), "holds": _minerals(water.minerals)}


def _pour(pour: Pour) -> dict[str, Any]:
    return {
        "parts": [{**_water(water), "litres": litres} for water, litres in pour.parts],
        "holds_then": _minerals(pour.after),
        "days": list(pour.days),
        "quantity": pour.quantity,
        "target": pour.target,
        "reach": pour.reach,
    }


def _change(change: WaterChange, litres: float) -> dict[str, Any]:
    plan = change.plan
    return {
        "quantity": change.quantity,
        "target": change.target,
        "with": None if change.water is None else _water(change.water),
        "days": [] if plan is None else [part * litres for part in plan.parts],
        "holds": [] if plan is None else [_minerals(each) for each in plan.after[1:]],
    }


def _built_up(built: BuildUp) -> dict[str, Any]:
    return {
        "since": built.since.isoformat(),
        "litres": built.litres,
        "rise": _minerals(built.rise),
        "in_30_days": None if built.monthly is None else _minerals(built.monthly),
        "leaves": {each: day.isoformat() for each, day in built.leaves.items()},
        "weekly_part": dict(built.weekly),
    }


def _batch(batch: Batch) -> dict[str, Any]:
    return {
        "water": batch.source,
        "fillings": batch.fillings,
        "litres": batch.litres,
        "salts": [{"salt": each.salt, "grams": each.grams, "error": each.error} for each in batch.salts],
        "holds": _minerals(batch.minerals),
        "tanks": [{"tank": tank, "litres": litres} for tank, litres in batch.tanks],
        "jugs": batch.jugs,
    }


def _caution(caution: Caution) -> dict[str, str]:
    return {"code": caution, "text": CAUTIONS[caution], "source": SOURCES[caution]}
