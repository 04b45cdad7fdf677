"""The whole room file: which tables it may have."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from schedules.room_file.schema.base import Spec
from schedules.room_file.schema.chores import ChoreSpec
from schedules.room_file.schema.equipment import AppetiteSpec, QuarantineSpec, ToolsSpec
from schedules.room_file.schema.feeds import ClockSpec, FeedSpec
from schedules.room_file.schema.keepers import KeeperSpec, RoundSpec
from schedules.room_file.schema.makeup import SaltSpec, SourceWaterSpec
from schedules.room_file.schema.tanks import RackSpec
from schedules.room_file.schema.values import (
    HardnessUnitName,
    LedgerPlace,
    Many,
    Name,
    Some,
    UnitSystemName,
    ZoneName,
    at_most,
)
from schedules.room_file.schema.water import WaterRulesSpec

MOST_CHORES = 50


class RoomSpec(Spec):
    """The whole file."""

    name: Name
    time_zone: ZoneName
    ledger: LedgerPlace | None = None
    units: UnitSystemName = "metric"
    hardness: HardnessUnitName = "degrees"
    keepers: Annotated[Many[KeeperSpec], at_most(50)] = ()
    rounds: Annotated[Many[RoundSpec], at_most(24)] = ()
    clocks: dict[str, ClockSpec] = Field(default_factory=dict)
    appetite: AppetiteSpec = AppetiteSpec()
    tools: ToolsSpec = ToolsSpec()
    quarantine: QuarantineSpec = QuarantineSpec()
    water: WaterRulesSpec = WaterRulesSpec()
    waters: Annotated[Many[SourceWaterSpec], at_most(50)] = ()
    salts: Annotated[Many[SaltSpec], at_most(50)] = ()
    feeds: Annotated[Some[FeedSpec], at_most(200)]
    chores: Annotated[Many[ChoreSpec], at_most(MOST_CHORES)] = ()
    racks: Annotated[Many[RackSpec], at_most(500)]
