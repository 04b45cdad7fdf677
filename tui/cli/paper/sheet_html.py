"""The helper's sheets as one HTML page that prints a rack to a page. Every text is escaped by the template engine."""

from __future__ import annotations

from collections.abc import Sequence

from schedules.formatting import date_text
from schedules.leave import LeavePlan, RackDay
from schedules.room import Room
from schedules.wording.leave.advice import HOW, NEVER, call_lines
from schedules.wording.leave.sheet import rack_sheets
from tui.cli.paper.html import rendered

MOST_VISITS = 7


def sheet_html(room: Room, helper: str, plan: LeavePlan, found: Sequence[RackDay], paper: str) -> bytes:
    """The sheets as a page in UTF-8."""
    return rendered(
        "sheet.html.jinja",
        title=f"{room.name}: feeding for {helper}",
        paper=paper,
        visits=[date_text(day) for day in plan.visits],
        how=HOW,
        never=NEVER,
        call=call_lines(room),
        racks=[
            {"name": page.rack, "days": [date_text(day) for day in page.visits], "rows": page.rows, "notes": page.notes}
            for page in rack_sheets(room, found, MOST_VISITS)
        ],
    )
