"""What a tank needs of make-up water, in plain lines: lost, poured in, changed, built up, what to beware of."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from schedules.formatting import counted, date_text, day_text
from schedules.room import Room
from schedules.room.units import gallons_from_litres, number_text
from schedules.room.water.quantities import reading_text
from schedules.water.makeup import BuildUp, MakeUpWater, Pour, TopOff, WaterChange
from schedules.water.makeup.known import PURE_ID
from schedules.wording.entries import RoomNames
from schedules.wording.water.amounts import (
    band_text,
    grams_text,
    held_text,
    litres_text,
    minerals_text,
)
from schedules.wording.water.cautions import CAUTIONS

_DAYS_SHOWN: Final = 7


def top_off_lines(room: Room, need: TopOff) -> list[str]:
    """What a tank needs and why, line by line; cautions come last, each once."""
    lines = [lost_text(room, need), f"holds now: {held_text(need.now, need.bands, room.units)}"]
    if need.pour is not None:
        lines += _pour_lines(room, need, need.pour)
    if need.change is not None:
        lines += change_lines(room, need, need.change)
    if need.build_up is not None:
        lines += build_up_lines(room, need, need.build_up)
    return [*lines, *(f"caution: {CAUTIONS[each]}" for each in need.cautions)]


def lost_text(room: Room, need: TopOff) -> str:
    """What is gone and what that was read off, or what is missing to say it."""
    if need.unknown == "no_area":
        return "how much is gone is not known: say the tank's inside = { length, width } or { height } in the room file"
    if need.lost is None:
        return "how much is gone is not known: read TDS twice, or give the fall of the level or the litres"
    loss = need.lost.loss
    litres = litres_text(loss.litres, room.units)
    if need.unknown == "too_much":
        return f"{litres} would be more than half of the tank: look again at what was read"
    off = "" if not loss.error else f", give or take {litres_text(loss.error, room.units)}"
    since = day_text(need.lost.since, need.day)
    match loss.by:
        case "level":
            return f"gone: {litres}{off}, by the level"
        case "litres":
            return f"gone: {litres}"
        case "usual":
            return f"gone: about {litres}, as is usual since {since}"
    before, now = (number_text(each, 0) for each in need.lost.solids or (0.0, 0.0))
    return f"gone: {litres}{off}, as TDS went from {before} to {now} mg/L since {since} and nothing else was added"


def _pour_lines(room: Room, need: TopOff, pour: Pour) -> Iterator[str]:
    parts = [f"{litres_text(litres, room.units)} of {_made(room, water, litres)}" for water, litres in pour.parts]
    yield f"pour in: {' and '.join(parts)}"
    yield f"holds then: {held_text(pour.after, need.bands, room.units)}"
    if pour.quantity is not None and pour.reach != "reached":
        yield _short_of(room, need, pour)
    if len(pour.days) > 1:
        each = ", ".join(litres_text(litres, room.units) for litres in pour.days)
        yield f"spread over {counted(len(pour.days), 'day')}, so that nothing moves too far in one: {each}"


def _made(room: Room, water: MakeUpWater, litres: float) -> str:
    """A water with the grams of salts that go into so many litres."""
    salts = ", ".join(f"{grams_text(grams * litres)} of {RoomNames(room).salt(salt)}" for salt, grams in water.grams)
    name = RoomNames(room).water(water.source)
    return f"{name} with {salts}" if salts else name


def _short_of(room: Room, need: TopOff, pour: Pour) -> str:
    assert pour.quantity is not None
    band = band_text(pour.quantity, need.bands[pour.quantity], room.units)
    side = "high" if pour.reach == "too_high" else "low"
    return f"still too {side}: topping off alone does not bring it to {band}"


def change_lines(room: Room, need: TopOff, change: WaterChange) -> Iterator[str]:
    """The changes a tank needs, or that no water of the room leads there."""
    units = room.units
    target = reading_text(change.quantity, change.target, units)
    if change.water is None or change.plan is None:
        yield f"to come to {target} other water is needed: none of this room leads there within its daily limits"
        return
    litres = [part * room.tanks[need.tank].litres for part in change.plan.parts]
    water = change.water
    yield f"to come to {target}: change {litres_text(sum(litres), units)} in {counted(len(litres), 'day')}"
    yield f"  for {_made(room, water, sum(litres))} ({minerals_text(water.minerals, units)})"
    shown = ", ".join(litres_text(each, units) for each in litres[:_DAYS_SHOWN])
    more = f" and {counted(len(litres) - _DAYS_SHOWN, 'day')} more" if len(litres) > _DAYS_SHOWN else ""
    yield f"  a day: {shown}{more}; read again before each"
    if need.pour is not None:
        today = f"at most {litres_text(need.change_today, units)}" if need.change_today else "none"
        yield f"  today {today}, as topping off has moved the water already"


def build_up_lines(room: Room, need: TopOff, build_up: BuildUp) -> Iterator[str]:
    """What stays behind of all that was poured in, and what keeps it in bounds."""
    units = room.units
    poured = litres_text(build_up.litres, units)
    rise = minerals_text(build_up.rise, units)
    if not any(build_up.rise):
        return
    yield f"built up since {date_text(build_up.since)}, by {poured} poured in and nothing changed: {rise}"
    if build_up.monthly is not None:
        yield f"  at that pace in 30 days: {minerals_text(build_up.monthly, units)}"
    for quantity, day in build_up.leaves.items():
        band = band_text(quantity, need.bands[quantity], units)
        name = reading_text(quantity, need.bands[quantity].high or 0.0, units)
        yield f"  passes {name} {'now' if day <= need.day else 'about ' + date_text(day)} ({band})"
    for quantity, part in build_up.weekly.items():
        litres = litres_text(part * room.tanks[need.tank].litres, units)
        high = reading_text(quantity, need.bands[quantity].high or 0.0, units)
        yield f"  changing {litres} a week for the usual water keeps it at {high} at most"


def record_words(room: Room, need: TopOff) -> str | None:
    """The words after `rackround pour ROOM.toml` that record today's part of what is poured in, None for nothing."""
    if need.pour is None:
        return None
    share = need.pour.days[0] / sum(need.pour.days)
    words, salts = [need.tank], []
    pure = 0.0
    for water, litres in need.pour.parts:
        today = litres * share
        if water.source is None:
            pure += today
        else:
            words.append(f"{water.source}={_typed(room, today)}")
        salts += [f"--salt {salt}={number_text(grams * today, 3)}" for salt, grams in water.grams]
    if pure:
        words.insert(1, f"{PURE_ID}={_typed(room, pure)}")
    return " ".join((*words, *salts))


def change_words(room: Room, need: TopOff) -> str | None:
    """The words that record today's part of a change, None where nothing is changed today."""
    if need.change is None or need.change.water is None or not need.change_today:
        return None
    water = need.change.water
    salts = [f"--salt {salt}={number_text(grams * need.change_today, 3)}" for salt, grams in water.grams]
    return " ".join((need.tank, f"{water.source or PURE_ID}={_typed(room, need.change_today)}", "--change", *salts))


def _typed(room: Room, litres: float) -> str:
    return number_text(gallons_from_litres(litres) if room.units.us else litres, 3)
