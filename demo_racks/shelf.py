"""The shelf of the invented breeding room: weighed twice, one delivery, and a fine feed that is nearly used up."""

from __future__ import annotations

from datetime import date, timedelta

from schedules.ledger import Delivered, Opened, Weighed, What


def shelf_past(today: date) -> tuple[tuple[int, What], ...]:
    """How many days ago, and what."""
    return (
        (53, Weighed("dust", 9.0)),
        (53, Weighed("plain", 60.0)),
        (53, Weighed("drift", 45.0)),
        (30, Delivered("drift", 100.0, "D 41", (today + timedelta(days=200)).isoformat())),
        (29, Opened("drift", "D 41")),
        (8, Weighed("dust", 3.5)),
        (8, Weighed("plain", 42.5)),
        (8, Weighed("drift", 109.0)),
        (8, Weighed("bug", 14.0)),
    )
