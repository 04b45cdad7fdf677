"""Why a serving should not be given now, or a sighting be questioned, in one sentence."""

from __future__ import annotations

from schedules.formatting import date_text, days_word
from schedules.ledger.declaration import kind_of
from schedules.room import Room
from schedules.round import Refusal
from schedules.session.doubt import Doubt
from schedules.wording.entries import RoomNames


def refusal_text(room: Room, refusal: Refusal) -> str:  # noqa: ARG001 (names come from the room)
    """The rule that stands against a serving, and who gave what when."""
    return refusal.text


def doubt_text(room: Room, doubt: Doubt) -> str:
    """What speaks against a sighting."""
    what = doubt.sighting
    said = kind_of(what).words(what, doubt.day, RoomNames(room))
    match doubt.kind:
        case "future":
            return f"{said}: {date_text(doubt.day)} {doubt.day.year} lies ahead"
        case "more_than_there":
            stage = what.stage.replace("_", " ")
            return f"{said}: only {doubt.there} {stage}{'' if doubt.there == 1 else 's'} are known to be there"
        case "quarantine":
            return f"{said}: {_quarantine_text(room, doubt)}"


def _quarantine_text(room: Room, doubt: Doubt) -> str:
    tank = room.tanks[doubt.sighting.tank]
    if tank.quarantine_days is None:
        return f"{tank.id} is a quarantine without an end (quarantine_days is not set)"
    rule = f"the quarantine of {tank.id} lasts {days_word(tank.quarantine_days)} from the last animals that came in"
    if doubt.arrived is None or doubt.until is None:
        return f"{rule}, and no day on which any came is known"
    return f"{rule}, {date_text(doubt.arrived)}; it is over on {date_text(doubt.until)}"
