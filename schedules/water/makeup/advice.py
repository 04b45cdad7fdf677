"""Which of the room's waters to pour or to change, how much of each, and in how many days."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from schedules.room import Room
from schedules.room.water.rules import Band
from schedules.water.makeup.changes import VOLUME_PART, ChangePlan, change_plan
from schedules.water.makeup.known import PURE_ID, is_in, minerals_of, nearest_in, salts_of, top_off_water
from schedules.water.makeup.loss import METER_PART
from schedules.water.makeup.minerals import DISSOLVED, Dissolved, Minerals, TankWater, mixed
from schedules.water.makeup.salting import recipe
from schedules.water.makeup.split import Reach, portions, split

USUAL_SWING_PART: Final = 0.1
"""Of the solids a tank holds, where its band names no daily change. Common practice, no source."""
USUAL_SWING_DEGREES: Final = 1.0
"""Of GH and KH a day. Common practice, no source."""
DROP_TEST_DEGREES: Final = 0.5
"""How exactly a test shows hardness that is counted in drops of a degree each. Common practice, no source."""


@dataclass(frozen=True, slots=True)
class MakeUpWater:
    """A water as it is poured: one of the room's (None for pure), with so many grams of salts in a litre of it."""

    source: str | None
    grams: tuple[tuple[str, float], ...]
    minerals: Minerals


@dataclass(frozen=True, slots=True)
class Pour:
    """Litres of each water to pour in, what the tank holds after, and how much of the mix to pour in on each day.

    `quantity` was brought to `target` by a split, None where one water alone does. `reach` says whether it gets there.
    """

    parts: tuple[tuple[MakeUpWater, float], ...]
    after: Minerals
    days: tuple[float, ...]
    quantity: Dissolved | None = None
    target: float | None = None
    reach: Reach = "reached"


@dataclass(frozen=True, slots=True)
class WaterChange:
    """The changes that bring the `quantity` that is out of its band to the nearest end of it, `target`.

    `water` and `plan` are None where none of the room's waters leads there.
    """

    quantity: Dissolved
    target: float
    water: MakeUpWater | None = None
    plan: ChangePlan | None = None


def waters_of(room: Room, wanted: Minerals) -> tuple[MakeUpWater, ...]:
    """Pure water, the room's waters, and last pure water with the room's salts in it as wanted, if it can be made."""
    pure = minerals_of(room, None)
    found = [MakeUpWater(None, (), pure)]
    found += [MakeUpWater(each, (), minerals_of(room, each)) for each in room.waters if each != PURE_ID]
    made = recipe(pure, salts_of(room), wanted)
    if made is not None and made.grams:
        found.append(MakeUpWater(None, made.grams, made.minerals))
    return tuple(found)


def first_out(minerals: Minerals, bands: Mapping[Dissolved, Band]) -> Dissolved | None:
    """The first of solids, GH and KH that is known and outside its band; None where none is."""
    for quantity, band in bands.items():
        value = minerals.of(quantity)
        if value is not None and not is_in(band, value):
            return quantity
    return None


def swing_of(quantity: Dissolved, band: Band | None, value: float) -> float:
    """The largest change in a day: as the band says, else the usual."""
    if band is not None and band.daily:
        return band.daily
    return max(1.0, USUAL_SWING_PART * value) if quantity == "tds" else USUAL_SWING_DEGREES


def best_pour(
    room: Room, tank: TankWater, litres: float, bands: Mapping[Dissolved, Band], waters: Sequence[MakeUpWater]
) -> Pour:
    """The usual water where all stays in its bands, else pure water where that does, else pure and mineralised.

    The aim is the value of the band nearest to what pure water alone would give: what was there before it evaporated.
    """
    usual = top_off_water(room)
    pure = waters[0]
    for water in (MakeUpWater(usual, (), minerals_of(room, usual)), pure):
        after = tank.poured(litres, water.minerals).minerals
        if first_out(after, bands) is None:
            return _in_days(Pour(((water, litres),), after, (litres,)), tank, litres, bands)
    quantity = first_out(tank.poured(litres, pure.minerals).minerals, bands)
    assert quantity is not None
    return _in_days(_split(tank, litres, quantity, bands[quantity], waters), tank, litres, bands)


def best_change(now: Minerals, bands: Mapping[Dissolved, Band], waters: Sequence[MakeUpWater]) -> WaterChange | None:
    """The changes for the first quantity out of its band: fewest days, then least water; None where none is out."""
    quantity = first_out(now, bands)
    value = None if quantity is None else now.of(quantity)
    if quantity is None or value is None:
        return None
    target = nearest_in(bands[quantity], value)
    plans = sorted(_plans(now, quantity, target, bands, waters), key=lambda each: each[0])
    return WaterChange(quantity, target, *(plans[0][1:] if plans else ()))


def _split(tank: TankWater, litres: float, quantity: Dissolved, band: Band, waters: Sequence[MakeUpWater]) -> Pour:
    pure = waters[0]
    alone = tank.poured(litres, pure.minerals).minerals
    value = alone.of(quantity)
    target = nearest_in(band, value or 0.0)
    best = Pour(((pure, litres),), alone, (litres,), quantity, target, _reach(value or 0.0, target))
    for rich in waters[1:]:
        holds, poor = rich.minerals.of(quantity), pure.minerals.of(quantity)
        if best.reach != "too_low" or holds is None or poor is None or holds <= poor:
            continue
        found = split(tank, litres, quantity, target, rich.minerals, pure.minerals)
        parts = tuple((water, part) for water, part in ((pure, found.pure), (rich, found.mineralised)) if part > 0)
        best = Pour(parts, found.after, (litres,), quantity, target, found.reach)
    return best


def _reach(value: float, target: float) -> Reach:
    return "reached" if value == target else "too_low" if value < target else "too_high"


def _in_days(pour: Pour, tank: TankWater, litres: float, bands: Mapping[Dissolved, Band]) -> Pour:
    """A pour spread over the days that its largest daily change asks for."""
    mix = mixed((part, water.minerals) for water, part in pour.parts)
    found = [pour.days]
    for quantity in DISSOLVED:
        value = tank.minerals.of(quantity)
        if value is not None and mix.of(quantity) is not None:
            found.append(portions(tank, litres, quantity, mix, swing_of(quantity, bands.get(quantity), value)))
    days = max(found, key=len)
    return Pour(pour.parts, pour.after, days, pour.quantity, pour.target, pour.reach)


def _plans(
    now: Minerals, quantity: Dissolved, target: float, bands: Mapping[Dissolved, Band], waters: Sequence[MakeUpWater]
) -> Iterator[tuple[tuple[int, float], MakeUpWater, ChangePlan]]:
    """Every water's plan that takes no other quantity out of its band, with how many days and how much it takes."""
    known = {each: value for each in DISSOLVED if (value := now.of(each)) is not None}
    swings = {each: swing_of(each, bands.get(each), value) for each, value in known.items()}
    errors: dict[Dissolved, float] = {
        each: METER_PART * value if each == "tds" else DROP_TEST_DEGREES for each, value in known.items()
    }
    for water in waters:
        plan = change_plan(now, water.minerals, quantity, target, swings, errors, VOLUME_PART)
        if plan is not None and _harmless(now, plan.after[-1], quantity, bands):
            yield (len(plan.parts), sum(plan.parts)), water, plan


def _harmless(before: Minerals, after: Minerals, quantity: Dissolved, bands: Mapping[Dissolved, Band]) -> bool:
    """Whether nothing but the quantity that is changed ends further outside its band than it was."""
    for other, band in bands.items():
        was, will = before.of(other), after.of(other)
        if other == quantity or was is None:
            continue
        if will is None or (not is_in(band, will) and _out(band, will) > _out(band, was)):
            return False
    return True


def _out(band: Band, value: float) -> float:
    """How far a value lies outside a band."""
    return abs(value - nearest_in(band, value))
