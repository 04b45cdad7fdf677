"""Appetite, tools and the quarantine protocol as a room file may describe them."""

from __future__ import annotations

from typing import Annotated

from schedules.room_file.schema.base import Spec
from schedules.room_file.schema.values import (
    BodyPercent,
    DoseError,
    Finite,
    Flag,
    Heads,
    Many,
    Milligrams,
    Millilitres,
    Name,
    Part,
    QuarantineDays,
    Scale,
    Some,
    Volume,
    Warming,
    at_most,
)


class BodyMassSpec(Spec):
    """Fresh body mass of one animal by stage."""

    shrimplet: Milligrams | None = None
    juvenile: Milligrams | None = None
    adult: Milligrams | None = None
    filter_feeder: Milligrams | None = None


class BodyPercentSpec(Spec):
    """Dry feed a day by stage, in percent of body mass."""

    shrimplet: BodyPercent | None = None
    juvenile: BodyPercent | None = None
    adult: BodyPercent | None = None
    filter_feeder: BodyPercent | None = None


class GrazedSpec(Spec):
    """The part of the need that grazing covers."""

    poor: Part | None = None
    fair: Part | None = None
    rich: Part | None = None


class FineMostSpec(Spec):
    """The most fine feed a day by grazing, mg/L."""

    poor: Milligrams | None = None
    fair: Milligrams | None = None
    rich: Milligrams | None = None


class AppetiteSpec(Spec):
    """`[appetite]`: what the animals eat, where the keeper knows better than the usual numbers."""

    body_mg: BodyMassSpec = BodyMassSpec()
    body_percent: BodyPercentSpec = BodyPercentSpec()
    grazed: GrazedSpec = GrazedSpec()
    fine_least: Milligrams | None = None
    fine_most: FineMostSpec = FineMostSpec()
    temperature: Finite | None = None
    q10: Warming | None = None


class QuarantineSpec(Spec):
    """`[quarantine]`: the protocol of all quarantine tanks."""

    days: QuarantineDays | None = None
    ends: Name | None = None
    tools: Name | None = None


class VesselSpec(Spec):
    """A syringe or cup: what it holds and how far apart its marks are."""

    ml: Millilitres
    mark_ml: Millilitres


class ToolsSpec(Spec):
    """`[tools]`: what the keeper weighs, measures and mixes with."""

    scale_mg: Scale | None = None
    syringes: Annotated[Many[VesselSpec], at_most(50)] | None = None
    cups: Annotated[Many[VesselSpec], at_most(50)] | None = None
    jug_ml: Millilitres | None = None
    jug_error_ml: Millilitres | None = None
    error: DoseError | None = None
    plain: Flag = False
    adults_per_piece: Heads | None = None
    doses_ml: Annotated[Some[Millilitres], at_most(50)] | None = None
    cup_above_ml: Millilitres | None = None
    canister: Volume | None = None
