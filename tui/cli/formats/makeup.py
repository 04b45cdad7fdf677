"""What `topoff` and `makeup` print. Litres, grams, mg/L of dissolved solids, GH and KH in German degrees."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from schedules.water.makeup.cautions import Caution
from schedules.water.makeup.loss import LossBy
from schedules.water.makeup.minerals import Dissolved
from schedules.water.makeup.split import Reach
from schedules.water.makeup.tank import NoLoss
from tui.cli.formats.base import Amount, Count, Day, Part, Share


class Held(Part):
    """What is dissolved in a water; null for what is not known."""

    tds: float | None
    """mg/L"""
    gh: float | None
    """German degrees"""
    kh: float | None
    """German degrees"""


class Band(Part):
    """Between which values a quantity is to stay, and how far it may move in a day."""

    low: float | None
    high: float | None
    daily: float | None


class Solids(Part):
    """Dissolved solids that a loss was read off, mg/L."""

    before: Amount
    now: Amount


class Lost(Part):
    """How much water is gone."""

    litres: Amount
    error: Amount | None
    """give or take so many litres; null where that is not known"""
    by: LossBy
    since: Day
    """when the tank is taken to have been full"""
    solids: Solids | None


class Water(Part):
    """A water as it is poured."""

    water: str | None
    """its id; null for pure water"""
    grams_per_litre: dict[str, Amount]
    """of salts in it, by their id"""
    holds: Held


class PouredPart(Water):
    """So much of a water."""

    litres: Amount


class Poured(Part):
    """What to pour in."""

    parts: list[PouredPart]
    holds_then: Held
    days: list[Amount]
    """litres of it day by day"""
    quantity: Dissolved | None
    """what was brought to `target`; null where one water alone keeps all in their bands"""
    target: float | None
    reach: Reach


class Change(Part):
    """The changes of water that a tank needs."""

    quantity: Dissolved
    target: float
    with_: Water | None = Field(alias="with")
    """null where none of the room's waters leads there"""
    days: list[Amount]
    """litres to change day by day"""
    holds: list[Held]
    """after each of them"""


class BuiltUp(Part):
    """What topping off has brought into a tank since its water was last changed."""

    since: Day
    litres: Amount
    rise: Held
    in_30_days: Held | None
    """at that pace; null while there are too few days"""
    leaves: dict[Dissolved, Day]
    """when a quantity leaves its band at that pace"""
    weekly_part: dict[Dissolved, Share]
    """which part of the water to change a week so that it settles within"""


class CautionText(Part):
    """What to beware of."""

    code: Caution
    text: str
    source: str


class Tank(Part):
    """What one tank needs."""

    tank: str
    date: Day
    lost: Lost | None
    unknown: NoLoss | None
    """why it is not known how much is gone"""
    holds: Held
    bands: dict[Dissolved, Band]
    pour: Poured | None
    change: Change | None
    change_today: Amount
    """litres of the change that today's top-off leaves room for"""
    built_up: BuiltUp | None
    cautions: list[CautionText]


class TopOff(Tank):
    """`rackround topoff --json`: what to pour into a tank and why."""

    format: Literal["rackround-topoff/1"]


class Salt(Part):
    """A salt to weigh for one filling."""

    salt: str
    grams: Amount
    error: Amount | None
    """of the scale, as a part of the grams; null without a scale"""


class TankLitres(Part):
    """How much of a batch a tank gets."""

    tank: str
    litres: Amount


class Batch(Part):
    """One water to make or draw."""

    water: str | None
    """null for pure water"""
    fillings: Count
    litres: Amount
    """of one filling"""
    salts: list[Salt]
    holds: Held
    tanks: list[TankLitres]
    jugs: Count


class MakeUp(Part):
    """`rackround makeup --json`: the make-up water of a rack or the whole room."""

    format: Literal["rackround-makeup/1"]
    date: Day
    rack: str | None
    batches: list[Batch]
    tanks: list[Tank]
    """each tank's own needs; their cautions are those of the whole"""
    unknown: list[str]
    cautions: list[CautionText]
