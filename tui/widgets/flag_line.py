"""A flag in one line, its point first, so that a cut takes away the least."""

from __future__ import annotations

from typing import Final

from schedules.review.flags import Flag
from schedules.room import Room
from schedules.wording.entries import feed_name
from schedules.wording.flags import evidence_text
from schedules.wording.glossary import FLAG_NAMES
from tui.widgets.cells import short, unbracketed

FEED: Final = 16
"""Cells of the feed's name."""


def flag_line(room: Room, flag: Flag) -> str:
    """What kind of flag it is, then the evidence, in which the feed's name is short."""
    evidence, feed = evidence_text(room, flag), ""
    if flag.feed is not None:
        name = feed_name(room, flag.feed)
        feed = short(unbracketed(name), FEED)
        evidence = evidence.replace(name, feed)
    kind = FLAG_NAMES[flag.kind]
    heads = [head for head in (kind, feed) if head and head not in evidence]
    return " · ".join([*heads, evidence])
