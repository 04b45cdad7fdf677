"""The weekly report as a page."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from schedules.wording.report.week import Section
from tui.cli.paper.files import ending, needs_extra, write_file


def write_report(path: Path, name: str, columns: Sequence[str], found: Sequence[Section]) -> None:
    """Write the report as HTML."""
    ending(path, ".html")
    with needs_extra(path.name):
        from tui.cli.paper.html import rendered

        content = rendered("report.html.jinja", title=f"{name}: the week", columns=columns, sections=found)
    write_file(path, content)
