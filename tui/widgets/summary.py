"""What closes a round: what was given and left out, the tanks that need care, when to look back, how long it took."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from textual.content import Content

from schedules.amounts import look_back
from schedules.chores import ChoreDue
from schedules.formatting import clock_text, counted, minutes_text
from schedules.ledger import Skipped
from schedules.session.session import Session
from schedules.wording.amounts import look_text
from schedules.wording.chores.chores import at_text, settled_text
from schedules.wording.entries import reason_text
from tui.widgets.cells import cut, wrap
from tui.widgets.flag_line import flag_line

CARE_SHOWN: Final = 5
LOOKS_SHOWN: Final = 5


def summary_lines(session: Session, width: int) -> list[Content]:
    """The summary of the session's round, `width` cells wide."""
    parts = (_marked(session), _care(session), _looks(session))
    lines: list[Content] = []
    for part in parts:
        head, *rest = part
        lines += [Content.styled(line, "bold") for line in wrap(head, width)]
        lines += [Content(cut(text, width)) for text in rest]
        lines.append(Content(""))
    return lines[:-1]


def _marked(session: Session) -> Iterator[str]:
    servings = [serving for stop in session.sheet.stops for serving in stop.servings]
    chores = [each for stop in session.sheet.stops for each in stop.chores]
    given = sum(serving.state == "given" for serving in servings)
    skipped = [serving for serving in servings if serving.state == "skipped"]
    yield f"{given} given, {len(skipped)} skipped{_chores(chores)} at {len(session.sheet.stops)} stops{_took(session)}"
    for serving in skipped:
        if serving.marked is not None and isinstance(serving.marked.what, Skipped):
            yield f"{serving.due.tank} {serving.feed_name}: {reason_text(serving.marked.what.because)}"
    for each in chores:
        if each.state == "skipped":
            yield f"{at_text(session.room, each.place)} {each.chore.name}: {settled_text(each)}"


def _chores(chores: Sequence[ChoreDue]) -> str:
    """How many chores were done, in about which time."""
    done = [each for each in chores if each.state == "done"]
    minutes = minutes_text(sum(each.chore.minutes for each in done))
    return f", {counted(len(done), 'chore')} done ({minutes})" if chores else ""


def _took(session: Session) -> str:
    """How long the marks of this round lie apart, empty where there is one at most."""
    stops = session.sheet.stops
    settled = [*(each.marked for stop in stops for each in stop.servings)]
    settled += [each.marked for stop in stops for each in stop.chores]
    marked = [entry for entry in settled if entry is not None]
    if len(marked) < 2:
        return ""
    seconds = (max(entry.at for entry in marked) - min(entry.at for entry in marked)).total_seconds()
    return f", {minutes_text(seconds / 60)} from the first mark to the last"


def _care(session: Session) -> Iterator[str]:
    found = session.standing(flag for flag in session.flags() if flag.severity == "high")
    yield f"{len(found)} urgent flags" if len(found) != 1 else "1 urgent flag"
    for flag in found[:CARE_SHOWN]:
        yield f"! {flag.tank}: {flag_line(session.room, flag)}"
    if len(found) > CARE_SHOWN:
        yield f"and {len(found) - CARE_SHOWN} more"


def _looks(session: Session) -> Iterator[str]:
    looks = look_back(session.room, session.history, session.day, session.clock())
    yield "Where to look back, and when" if looks else "Nowhere to look back today"
    for look in looks[:LOOKS_SHOWN]:
        yield f"{clock_text(look.at, session.room.zone)} {look.tank}: {look_text(session.room, look)}"
    if len(looks) > LOOKS_SHOWN:
        yield f"and {len(looks) - LOOKS_SHOWN} more"
