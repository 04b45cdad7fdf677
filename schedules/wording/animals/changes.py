"""What was different in a tank and its rack, in plain English."""

from __future__ import annotations

from schedules.formatting import date_text
from schedules.review.changes import Difference
from schedules.room import Room
from schedules.wording.entries import entry_text, feed_name
from schedules.wording.water.findings import finding_text


def difference_text(room: Room, each: Difference) -> str:
    """One difference in one line."""
    shared = f", as in {each.shared} tanks with trouble" if each.shared > 1 else ""
    return f"{_said(room, each)}{shared}"


def _said(room: Room, each: Difference) -> str:
    feed = feed_name(room, each.what) if each.what else ""
    said = "" if each.entry is None else entry_text(room, each.entry)
    match each.kind:
        case "missed":
            return f"{feed} missed in {each.tank} ({date_text(each.day)})"
        case "keeper":
            return f"{each.what} fed here, and did not in the time before (from {date_text(each.day)})"
        case "new_feed":
            return f"new here: {said}"
        case "opened":
            return f"{said}, given in {each.tank} since"
        case "water_read" if each.finding is not None:
            found, too = each.finding, "" if each.tank == each.finding.tank else f", {each.tank} too"
            return f"{found.tank}: {finding_text(room, found)} ({date_text(each.day)}){too}"
        case "extra":
            return f"against a rule: {said}"
    return said
