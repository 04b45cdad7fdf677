"""What a helper must never do, how a visit goes, whom to call. Common practice, no source."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from schedules.room import Room

NEVER: Final = (
    "Never give more than the sheet says, however hungry they look. Too little harms nobody, too much kills.",
    "Never give anything that is not on the sheet, and never make up for a visit that was missed.",
    "Never put salts, medicine or anything else into the water, and never change or top up water.",
    "Never move an animal, a plant, a net or a tool from one tank to another.",
)
HOW: Final = (
    "Come on the days of the sheet only, about the same time of day.",
    "Take the cups of the day and the rack. Fill up with tank water to the mark on the label and shake.",
    "Give each tank what its box says. Tick the left box.",
    "Water cloudy, or food lying there: give nothing in that tank, nor on the next visit. Tick the right box.",
    "Throw away what is left in a cup. Wash hands and syringes with water only, without soap.",
    "Not sure? Leave it out and call.",
)
GIVEN, CLOUDY = "given", "cloudy"


def call_lines(room: Room) -> tuple[str, ...]:
    """Whom to call; a line to write on for a keeper without a telephone number."""
    lines = (f"{keeper.name}: {keeper.phone or '____________________'}" for keeper in room.keepers)
    return tuple(lines) or ("____________________",)


def rack_notes(room: Room, tanks: tuple[str, ...]) -> Iterator[str]:
    """What else to mind on a rack."""
    apart = [room.tanks[tank].label for tank in tanks if room.tanks[tank].quarantine]
    if apart:
        yield f"Quarantine, go there last, use its own tools only: {', '.join(apart)}."
