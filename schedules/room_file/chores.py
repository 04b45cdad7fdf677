"""What a room file says of chores: templates filled in, places settled, and what is wrong with a chore."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass
from typing import Final

from schedules.room.chores import Chore, ChorePlace, Each, Order
from schedules.room.recurrence import RuleFault, check_rule
from schedules.room_file.consistency import Finding
from schedules.room_file.faults import KeyPath
from schedules.room_file.schema.chore_templates import TEMPLATES, Template
from schedules.room_file.schema.chores import ChoreSpec
from schedules.room_file.schema.room import RoomSpec
from schedules.room_file.show import printable, quoted

MOST_RULES: Final = 24
"""Of all chores of a room, as for keepers' days off: every day that is shown is looked up in each of them."""
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
        opens=template.opens,
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


def chore_sense(path: KeyPath, spec: ChoreSpec) -> Iterator[Finding]:
    """What is wrong within one chore although each of its keys is right."""
    if id_of(spec) is None:
        yield Finding(path, "neither id nor template", 'id = "…", or template with one of the usual chores')
    yield from _kind_of_rule(path, spec)
    each, order = each_of(spec), order_of(spec)
    if spec.tanks is not None and each != "tank":
        yield Finding((*path, "tanks"), f'tanks beside each = "{each}"', 'tanks beside each = "tank"')
    if spec.racks is not None and each == "room":
        yield Finding((*path, "racks"), 'racks beside each = "room"', 'racks beside each = "rack" or "tank"')
    if (order == "stop") != (each == "tank"):
        allowed = '"stop", the stop of its tank' if each == "tank" else '"before" or "after" the tanks'
        yield Finding((*path, "walk"), quoted(order), f'{allowed}, with each = "{each}"')


def _kind_of_rule(path: KeyPath, spec: ChoreSpec) -> Iterator[Finding]:
    kinds = [key for key in ("rule", "every", "when") if getattr(spec, key) is not None]
    if len(kinds) > 1:
        yield Finding((*path, kinds[1]), f"{kinds[1]} beside {kinds[0]}", "one of rule, every and when")
        return
    if not kinds and spec.template is None:
        yield Finding(path, "no rule, every or when", "one of them, which says when the chore is due")
        return
    if spec.when is None and spec.first is None:
        yield Finding((*path, "from"), "nothing", "from = DATE, the first day of the chore")
    if (spec.when == "after_move_in") != (spec.days is not None):
        found = "nothing" if spec.days is None else f"{spec.days}"
        yield Finding((*path, "days"), found, 'days beside when = "after_move_in", and only there')
    if spec.when is not None and each_of(spec) != "tank":
        yield Finding((*path, "each"), quoted(each_of(spec)), '"tank" beside when')


def rule_sense(path: KeyPath, spec: ChoreSpec) -> Iterator[Finding]:
    """A recurrence rule that cannot be used, or names no day."""
    if spec.rule is None or spec.first is None:
        return
    try:
        check_rule(spec.rule, spec.first)
    except RuleFault as fault:
        yield Finding((*path, "rule"), printable(fault.found), fault.allowed)


def _template(spec: ChoreSpec) -> Template:
    return _NO_TEMPLATE if spec.template is None else TEMPLATES[spec.template]
