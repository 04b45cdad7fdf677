"""What an edited room file changes, line by line."""

from __future__ import annotations

from typing import Final

from schedules.formatting import counted
from schedules.session.room_change import PlanChange, RoomChange

SHOWN: Final = 6
"""Tanks or feeds named in one line."""
SETTINGS: Final = {
    "rounds": "the rounds of a day were changed",
    "keepers": "the keepers were changed",
    "clocks": "the needs of the room were changed",
    "name": "the room has another name",
    "zone": "the time zone was changed",
    "units": "the units were changed",
    "appetite": "the appetite was changed",
    "tools": "the tools were changed",
    "water": "what is read in the water, or its targets, were changed",
    "racks": "racks were renamed",
}
ONLY_NAMES: Final = "Only names changed; the plan stays as it is."


def room_change_text(change: RoomChange) -> str:
    """One difference."""
    if change.code == "walk":
        return "the order of the walk was changed"
    if change.code == "setting":
        return SETTINGS.get(change.ids[0], f"{change.ids[0].replace('_', ' ')} was changed")
    plural = "s" if len(change.ids) > 1 else ""
    return f"{change.kind}{plural} {change.code}: {_listed(change.ids)}"


def plan_change_text(change: PlanChange) -> str:
    """What the edited room changes in the coming days."""
    if not change.added and not change.gone:
        return f"the plan of the coming {change.days} days stays as it is"
    come = f"{counted(change.added, 'serving')} more"
    return f"the plan of the coming {change.days} days: {come}, {change.gone} fewer; today stays as posted"


def _listed(ids: tuple[str, ...]) -> str:
    more = f" and {len(ids) - SHOWN} more" if len(ids) > SHOWN else ""
    return ", ".join(ids[:SHOWN]) + more
