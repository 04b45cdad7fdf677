"""A flag in one line, its point first, so that a cut takes away the least."""

from __future__ import annotations

from typing import Final

from schedules.review.flags import Flag
from schedules.room import Room
from schedules.wording.entries import feed_name
from schedules.wording.glossary import FLAG_NAMES
from tui.widgets.cells import short, unbracketed

FEED: Final = 16
"""Cells of the feed's name."""


def flag_line(room: Room, flag: Flag) -> str:
    """What kind of flag it is, the feed in short, then the evidence."""
    feed = "" if flag.feed is None else short(unbracketed(feed_name(room, flag.feed)), FEED)
    name = FLAG_NAMES[flag.kind]
    head = "" if flag.evidence.startswith(name) else name
    return " · ".join(part for part in (head, feed, flag.evidence) if part)
