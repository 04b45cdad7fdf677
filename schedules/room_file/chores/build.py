"""From what a room file says of chores to chores: templates filled in, places settled."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass
from typing import Final

from schedules.room.chores import Chore, ChorePlace, Each, Order
from schedules.room_file.schema.chore_templates import TEMPLATES, Template
from schedules.room_file.schema.chores import ChoreSpec
from schedules.room_file.schema.room import RoomSpec

_NO_TEMPLATE: Final = Template(name="", minutes=2, note="")
"""A chore without a template takes two minutes: common practice, no source."""


@dataclass(frozen=True, slots=True)
class Placing:
    """Where a file's tanks stand: the rack of each tank and which are quarantine, both in the order of the file."""

    racks: tuple[str, ...]
    rack_of: Mapping[str, str]
    quarantine: Collection[str]


def id_of(spec: ChoreSpec) -> str | None:
    """A chore's id: its own, or its template's name."""
    return spec.id or spec.template


def each_of(spec: ChoreSpec) -> Each:
    """What a chore is done once for: as written, as its template has it, else as its lists of places suggest."""
    template = _template(spec)
    if spec.each is not None:
        return spec.each
    if spec.template is not None:
        return template.each
    return "tank" if spec.tanks is not None else "rack" if spec.racks is not None else "room"


def order_of(spec: ChoreSpec) -> Order:
    """Where in the walk a chore is done: a tank's at its stop, all others before the tanks unless it is written."""
    return spec.walk or _template(spec).walk or ("stop" if each_of(spec) == "tank" else "before")


def chore_of(spec: ChoreSpec, placing: Placing, first_round: str) -> Chore:
    """The chore that a table without faults describes."""
    template, own = _template(spec), any((spec.rule, spec.every, spec.when))
    return Chore(
        id=id_of(spec) or "",
        name=spec.name or template.name or id_of(spec) or "",
        places=places_of(spec, placing),
        round=spec.round or first_round,
        order=order_of(spec),
        minutes=template.minutes if spec.minutes is None else spec.minutes,
        within=spec.within or (1 if own else template.within),
        rule=spec.rule if own else template.rule,
        every=spec.every if own else template.every,
        condition=spec.when,
        days=spec.days or 0,
        begins=spec.first,
        by=spec.by,
        quarantine=(template.quarantine if spec.quarantine is None else spec.quarantine) is True,
        best_before=spec.best_before,
        note=spec.note or template.note,
        done_by=template.done_by,
    )


def places_of(spec: ChoreSpec, placing: Placing) -> tuple[ChorePlace, ...]:
    """Where a chore is done, in walking order, quarantine last; nowhere where no place fits what is written."""
    wanted = _template(spec).quarantine if spec.quarantine is None else spec.quarantine
    tanks = [
        tank
        for tank, rack in placing.rack_of.items()
        if (spec.tanks is None or tank in spec.tanks)
        and (spec.racks is None or rack in spec.racks)
        and (wanted is None or (tank in placing.quarantine) == wanted)
    ]
    if each_of(spec) == "room":
        return (ChorePlace(),) if tanks else ()
    if each_of(spec) == "rack":
        return tuple(
            ChorePlace(rack=rack) for rack in placing.racks if any(placing.rack_of[tank] == rack for tank in tanks)
        )
    return tuple(ChorePlace(tank=tank) for tank in sorted(tanks, key=lambda tank: tank in placing.quarantine))


def placing_of(spec: RoomSpec) -> Placing:
    """Where the tanks of a sound file stand."""
    return Placing(
        tuple(rack.id for rack in spec.racks),
        {tank.id: rack.id for rack in spec.racks for tank in rack.tanks},
        frozenset(tank.id for rack in spec.racks for tank in rack.tanks if tank.quarantine),
    )


def _template(spec: ChoreSpec) -> Template:
    return _NO_TEMPLATE if spec.template is None else TEMPLATES[spec.template]
