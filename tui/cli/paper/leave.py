"""The files of a leave plan: the helper's sheets as PDF or HTML, the labels as PDF."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from pathlib import Path

from schedules.leave import LeavePlan, RackDay
from schedules.room import Room
from schedules.wording.leave.sheet import labels
from tui.cli.paper.files import ending, needs_extra, write_file


def write_sheet(
    path: Path, room: Room, helper: str, plan: LeavePlan, found: Sequence[RackDay], paper: str, made_at: datetime
) -> None:
    """Write the helper's sheets, as the file's name says: PDF or HTML."""
    kind = ending(path, ".pdf", ".html")
    with needs_extra(f"{path.name}"):
        if kind == ".html":
            from tui.cli.paper.sheet_html import sheet_html

            content = sheet_html(room, helper, plan, found, paper)
        else:
            from tui.cli.paper.sheet_pdf import sheet_pdf

            content = sheet_pdf(room, helper, plan, found, paper, made_at)
    write_file(path, content)


def write_labels(path: Path, room: Room, people: str, found: Sequence[RackDay], paper: str, made_at: datetime) -> None:
    """Write the labels of the cups and boxes; `people` says by whom they were prepared, and for whom."""
    ending(path, ".pdf")
    with needs_extra(f"{path.name}"):
        from tui.cli.paper.labels_pdf import labels_pdf

        content = labels_pdf(room.name, labels(room, found), people, paper, made_at)
    write_file(path, content)
