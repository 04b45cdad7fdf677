"""What a room file says of appetite and tools: the usual, with what the keeper knows better put in its place."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TypeVar, cast

from schedules.room import Appetite, Tools, Units, Vessel
from schedules.room.units import celsius_from, litres_from
from schedules.room_file.schema.base import Spec
from schedules.room_file.schema.equipment import AppetiteSpec, ToolsSpec, VesselSpec
from schedules.room_file.schema.values import NONE

K = TypeVar("K", bound=str)


def appetite_of(spec: AppetiteSpec, units: Units) -> Appetite:
    """What the animals eat, temperatures in °C."""
    usual = Appetite()
    return Appetite(
        body_mg=_changed(usual.body_mg, spec.body_mg),
        body_percent=_changed(usual.body_percent, spec.body_percent),
        grazed=_changed(usual.grazed, spec.grazed),
        fine_least=usual.fine_least if spec.fine_least is None else spec.fine_least,
        fine_most=_changed(usual.fine_most, spec.fine_most),
        celsius=usual.celsius if spec.temperature is None else celsius_from(spec.temperature, units),
        q10=usual.q10 if spec.q10 is None else spec.q10,
    )


def tools_of(spec: ToolsSpec, units: Units) -> Tools:
    """What the keeper weighs, measures and mixes with; vessels from the smallest to the largest."""
    usual = Tools()
    scale = usual.scale_mg if spec.scale_mg is None else spec.scale_mg
    return Tools(
        scale_mg=None if scale == NONE else scale,
        syringes=usual.syringes if spec.syringes is None else _vessels(spec.syringes, syringe=True),
        cups=usual.cups if spec.cups is None else _vessels(spec.cups, syringe=False),
        jug_ml=usual.jug_ml if spec.jug_ml is None else spec.jug_ml,
        jug_error_ml=usual.jug_error_ml if spec.jug_error_ml is None else spec.jug_error_ml,
        error=usual.error if spec.error is None else spec.error,
        plain=spec.plain,
        adults_per_piece=usual.adults_per_piece if spec.adults_per_piece is None else spec.adults_per_piece,
        doses_ml=usual.doses_ml if spec.doses_ml is None else tuple(sorted(set(spec.doses_ml))),
        cup_above_ml=usual.cup_above_ml if spec.cup_above_ml is None else spec.cup_above_ml,
        canister_litres=None if spec.canister is None else litres_from(spec.canister, units),
    )


def _changed(usual: Mapping[K, float], spec: Spec) -> dict[K, float]:
    """Usual numbers by name, with those that the table sets put in their place or added."""
    return {**usual, **cast("dict[K, float]", spec.model_dump(exclude_none=True))}


def _vessels(specs: tuple[VesselSpec, ...], *, syringe: bool) -> tuple[Vessel, ...]:
    return tuple(sorted((Vessel(spec.ml, spec.mark_ml, syringe) for spec in specs), key=lambda vessel: vessel.ml))
