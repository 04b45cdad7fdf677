"""Calendar events in words: a title and a description each."""

from __future__ import annotations

from schedules.formatting import counted, minutes_text
from schedules.review.expected import Expected
from schedules.room import Room
from schedules.session.calendar import Event
from schedules.stock import Outlook
from schedules.wording.animals.expected import BEFORE_A_HATCH, expected_text
from schedules.wording.stock.shelf import feed_text, order_text


def title(room: Room, event: Event) -> str:
    """The line that a calendar shows."""
    if isinstance(event.about, Expected):
        return f"Hatch expected: {room.tanks[event.about.tank].label}"
    if isinstance(event.about, Outlook):
        return f"Order {room.feeds[event.about.feed].name}"
    name = f"{event.about[:1].upper()}{event.about[1:]} round"
    return f"{name}: {counted(event.stops, 'tank')}, {minutes_text(event.minutes)}"


def description(room: Room, event: Event) -> str:
    """What else there is to know."""
    day = event.start
    if isinstance(event.about, Expected):
        return f"{expected_text(event.about, day)}. {BEFORE_A_HATCH[0]}"
    if isinstance(event.about, Outlook):
        order = "" if event.about.order is None else f"{order_text(event.about.order, day)}. "
        return f"{order}{feed_text(room, event.about, day)}."
    return f"{room.name}: the length is the plan's handling time; getting ready comes before it."
