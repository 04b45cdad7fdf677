"""A rack's make-up water in plain lines: what to make, what to carry to which tank, what to beware of."""

from __future__ import annotations

from schedules.formatting import counted
from schedules.room import Room
from schedules.room.units import number_text
from schedules.water.makeup import Batch, MakeUp
from schedules.wording.entries import RoomNames
from schedules.wording.water.amounts import grams_text, litres_text, minerals_text
from schedules.wording.water.cautions import CAUTIONS


def make_up_lines(room: Room, found: MakeUp) -> list[str]:
    """The list of batches, then the tanks of which too little is known, then cautions, each once."""
    lines = [line for number, batch in enumerate(found.batches, 1) for line in batch_lines(room, number, batch)]
    if not lines:
        lines.append("nothing to make")
    if found.unknown:
        lines.append(f"not known how much is gone: {', '.join(found.unknown)}")
    spread = [need.tank for need in found.tanks if need.pour is not None and len(need.pour.days) > 1]
    if spread:
        lines.append(f"only today's part, as more would move the water too far: {', '.join(spread)}")
    changed = [
        f"{need.tank} {litres_text(need.change_today, room.units)}" for need in found.tanks if need.change_today > 0
    ]
    if changed:
        lines.append(f"as a change, as much taken out before: {', '.join(changed)}")
    return [*lines, *(f"caution: {CAUTIONS[each]}" for each in found.cautions)]


def batch_lines(room: Room, number: int, batch: Batch) -> list[str]:
    """One batch: how it is made, what it holds, which tank gets how much."""
    units = room.units
    name = RoomNames(room).water(batch.source)
    fillings = "" if batch.fillings == 1 else f"{batch.fillings} × "
    lines = [f"batch {number}: {fillings}{litres_text(batch.litres, units)} of {name}, {counted(batch.jugs, 'jug')}"]
    for each in batch.salts:
        off = "" if each.error is None else f", the scale good to {number_text(each.error * 100)} %"
        per = " in each" if batch.fillings > 1 else ""
        lines.append(f"  weigh {grams_text(each.grams)} of {RoomNames(room).salt(each.salt)}{per}{off}")
    lines.append(f"  holds {minerals_text(batch.minerals, units)}")
    lines += [f"  {room.tanks[tank].label}: {litres_text(litres, units)}" for tank, litres in batch.tanks]
    return lines
