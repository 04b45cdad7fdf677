"""Calendar events in words: a title and a description each."""

from __future__ import annotations

from datetime import date

from schedules.formatting import counted, date_text, minutes_text
from schedules.review.expected import Expected
from schedules.room import Room
from schedules.session.calendar import ChoreDay, DaysAway, Event
from schedules.stock import Outlook
from schedules.wording.animals.expected import BEFORE_A_HATCH, expected_text
from schedules.wording.chores.chores import at_text, note_text
from schedules.wording.stock.shelf import feed_text, order_text


def title(room: Room, event: Event) -> str:
    """The line that a calendar shows."""
    if isinstance(event.about, Expected):
        return f"Hatch expected: {room.tanks[event.about.tank].label}"
    if isinstance(event.about, Outlook):
        return f"Order {room.feeds[event.about.feed].name}"
    if isinstance(event.about, DaysAway):
        return f"Away: {event.about.helper} feeds"
    if isinstance(event.about, ChoreDay):
        return f"{event.about.chore.name}: {_where(room, event.about)}, {minutes_text(event.minutes)}"
    name = f"{event.about[:1].upper()}{event.about[1:]} round"
    helper = "" if event.helper is None else f" ({event.helper})"
    return f"{name}{helper}: {counted(event.stops, 'tank')}, {minutes_text(event.minutes)}"


def _where(room: Room, about: ChoreDay) -> str:
    """The one place of a chore, or how many there are."""
    if len(about.places) == 1:
        return at_text(room, about.places[0])
    return counted(len(about.places), "tank" if about.places[0].tank is not None else "rack")


def description(room: Room, event: Event) -> str:
    """What else there is to know."""
    day = event.start
    if isinstance(event.about, Expected):
        return f"{expected_text(event.about, day)}. {BEFORE_A_HATCH[0]}"
    if isinstance(event.about, Outlook):
        order = "" if event.about.order is None else f"{order_text(event.about.order, day)}. "
        return f"{order}{feed_text(room, event.about, day)}."
    if isinstance(event.about, DaysAway):
        visits = ", ".join(date_text(each) for each in event.about.visits) or "none"
        return f"{room.name}: {event.about.helper} feeds by the leave plan. Visits: {visits}."
    if isinstance(event.about, ChoreDay):
        return _chore_lines(room, event.about, event.start)
    if event.helper is not None:
        return f"{room.name}: by the leave plan; the length is its handling time."
    return f"{room.name}: the length is the plan's handling time; getting ready comes before it."


def _chore_lines(room: Room, about: ChoreDay, day: date) -> str:
    places = ", ".join(at_text(room, place) for place in about.places)
    away = "" if about.helper is None else f" This is a day away: {about.helper} feeds and does no chores."
    return f"{room.name}: {'. '.join(part for part in (places, note_text(about.chore, day)) if part)}.{away}"
