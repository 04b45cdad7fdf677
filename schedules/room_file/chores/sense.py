"""What is wrong with a chore although each of its keys is right."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from schedules.room.recurrence import RuleFault, check_rule
from schedules.room_file.chores.build import each_of, id_of, order_of
from schedules.room_file.consistency import Finding
from schedules.room_file.faults import KeyPath
from schedules.room_file.schema.chores import ChoreSpec
from schedules.room_file.show import printable, quoted

MOST_RULES: Final = 24
"""Of all chores of a room, as for keepers' days off: every day that is shown is looked up in each of them."""


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
