"""The chores of a stop: each a numbered line after the servings, with when it is due and how it is done."""

from __future__ import annotations

from typing import Final

from textual.content import Content
from textual.style import Style

from schedules.chores import ChoreDue
from schedules.formatting import clock_text, number_text
from schedules.round import Stop
from schedules.session.session import Session
from schedules.wording.chores.chores import next_text, note_text, settled_text, stop_title, when_text, why_text
from tui.widgets.cells import cut, fit
from tui.widgets.text_lines import INDENT, styled, under

COLUMN: Final = 8
"""Cells for a chore's minutes, or what became of it."""
KEEPER_WIDTH: Final = 24


def chores_only(session: Session, stop: Stop, width: int) -> list[Content]:
    """A stop without a tank: what it is called, and its chores in full."""
    lines = [Content.styled(cut(stop_title(session.room, stop), width), "bold $primary"), Content("")]
    if stop.quarantine:
        lines[1:1] = styled("QUARANTINE: its own tools; wash hands after", width, "bold $warning")
    return lines + chore_lines(session, stop, width, in_full=True)


def chore_lines(session: Session, stop: Stop, width: int, *, in_full: bool) -> list[Content]:
    """The chores of a stop, numbered on from its servings; in a line each where there is little room."""
    lines: list[Content] = []
    for number, each in enumerate(stop.chores, len(stop.servings) + 1):
        tap = Style.from_meta({"@click": f"screen.serving({number})"})
        lines += [line.stylize(tap) for line in _lines(session, number, each, width, in_full=in_full)]
    return lines


def _lines(session: Session, number: int, each: ChoreDue, width: int, *, in_full: bool) -> list[Content]:
    if each.state != "due":
        return _settled(session, number, each, width)
    style = "bold $warning" if each.days_late else "bold $accent"
    said = when_text(each)
    beside = "" if in_full or not each.days_late else f", {said}"
    head = Content.assemble(
        (f"{number:<{INDENT}}", "bold"),
        (fit(f"{number_text(each.chore.minutes)} min", COLUMN), style),
        ("  " + cut(each.chore.name + beside, max(8, width - INDENT - COLUMN - 2)), "bold"),
    )
    if not session.is_chore_due(each):
        return [head, *under("NOT SAVED YET: the mark waits and is tried again", width, "bold $error")]
    if not in_full:
        return [head]
    about = " · ".join(part for part in (note_text(each.chore, session.day), why_text(each.chore)) if part)
    return [
        head,
        *under(said, width, "$warning" if each.days_late else ""),
        *under(about, width, "$quiet"),
        Content(""),
    ]


def _settled(session: Session, number: int, each: ChoreDue, width: int) -> list[Content]:
    style = {"done": "$success", "missed": "$error"}.get(each.state, "$quiet")
    name = cut(each.chore.name, max(8, width - INDENT - COLUMN - 2))
    head = Content.styled(f"{number:<{INDENT}}{fit(each.state, COLUMN)}  {name}", style)
    if each.marked is None:
        return [head]
    who = cut(each.marked.by or "the program", KEEPER_WIDTH)
    parts = (settled_text(each), next_text(each))
    said = "; ".join(part for part in parts if part)
    return [head, *under(f"{clock_text(each.marked.at, session.room.zone)} {who}: {said}", width, "$quiet")]
