"""What there is to know at one stop: the tank, what goes in, how and why, what it got lately, what is odd about it."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import timedelta
from typing import Final

from textual.content import Content

from schedules.flags import Flag
from schedules.kinds import Stage
from schedules.ledger import Noted, Observed, Served, Skipped
from schedules.room import Room, Tank
from schedules.round import RoundServing, Stop
from schedules.units import volume_text
from schedules.words import WEEKDAYS, clock_text, date_text, measurable, measures_text, method_text
from tui.desk import Desk
from tui.telling import dose_text, due_text, feed_name

STAGE_TEXT: Final[dict[Stage, str]] = {
    "shrimplet": "shrimplets",
    "juvenile": "juveniles",
    "adult": "adults",
    "filter_feeder": "filter feeders",
}
DAYS_SHOWN: Final = 7
FEED_WIDTH: Final = 15


def stop_content(desk: Desk, stop: Stop, flags: Iterable[Flag]) -> Content:
    """Everything about a stop, as lines to read from top to bottom."""
    tank = desk.room.tanks[stop.tank]
    lines = [*_tank_lines(desk, tank), Content("")]
    for number, serving in enumerate(stop.servings, 1):
        lines += _serving_lines(desk.room, number, serving)
    lines += [Content.assemble(("flag ", "bold $warning"), f"{flag.evidence}. {flag.advice}") for flag in flags]
    lines += [Content(""), *_lately_lines(desk, tank), *_said_lines(desk, tank)]
    return Content("\n").join(lines)


def _tank_lines(desk: Desk, tank: Tank) -> list[Content]:
    where = f"{tank.rack}, {tank.place}" if tank.place else tank.rack
    lives = [
        f"{tank.count(stage, desk.day)} {text}" for stage, text in STAGE_TEXT.items() if tank.count(stage, desk.day)
    ]
    berried = sum(here.berried for here in tank.animals if here.on(desk.day))
    water = f"{volume_text(tank.litres, desk.room.units)}, surface {tank.surface}, grazing {tank.grazing}"
    lines = [
        Content.assemble((f"{tank.id} {tank.name}", "bold $primary")),
        Content(f"{where}; {water}"),
        Content(", ".join(lives) + (f" ({berried} berried)" if berried else "") if lives else "no animals noted"),
    ]
    if tank.quarantine:
        lines.append(Content.styled("quarantine: last, with its own tools; wash hands after", "bold $warning"))
    return lines


def _serving_lines(room: Room, number: int, serving: RoundServing) -> list[Content]:
    due = serving.due
    word, style = _word(serving)
    lines = [
        Content.assemble(
            (f"{number} ", "bold"),
            (f"{serving.feed_name}: ", "bold"),
            (due_text(due), "bold $accent" if serving.state == "due" else ""),
            "  ",
            (word, style),
            _by(room, serving),
        )
    ]
    if serving.held is not None:
        lines.append(Content.styled(f"  hold back: {serving.held.text}", "$warning"))
    if serving.state == "due":
        if serving.shrunk:
            lines.append(Content.styled(f"  less than planned: {serving.shrunk}", "$warning"))
        lines.append(Content.styled(f"  {method_text(due.method)}; {serving.why}", "$text-muted"))
    return lines


def _word(serving: RoundServing) -> tuple[str, str]:
    if serving.held is not None:
        return "HOLD BACK", "bold $warning"
    styles = {"due": "bold", "given": "$success", "skipped": "$text-muted", "missed": "$error"}
    return serving.state, styles[serving.state]


def _by(room: Room, serving: RoundServing) -> str:
    marked = serving.marked
    if marked is None:
        return ""
    why = f": {marked.what.because}" if isinstance(marked.what, Skipped) else ""
    extra = ", extra" if isinstance(marked.what, Served) and marked.what.broke else ""
    given = ""
    if isinstance(marked.what, Served) and marked.what.amount != serving.due.amount:
        given = f" {dose_text(marked.what.amount, marked.what.unit, marked.what.amount_mg)}"
    return f"{given}{extra} {clock_text(marked.at, room.zone)} {marked.by or ''}{why}"


def _lately_lines(desk: Desk, tank: Tank) -> list[Content]:
    """A strip of the last days: a row for each feed the tank takes or got, a cell for each day."""
    days = [desk.day - timedelta(days=back) for back in range(DAYS_SHOWN - 1, -1, -1)]
    heads = "".join(f"{WEEKDAYS[day.weekday()][:2]:>4}" for day in days[:-1]) + " now"
    rows = [Content.styled(f"{'lately':<{FEED_WIDTH}}{heads}", "$text-muted")]
    got = {
        (entry.day, what.feed): entry
        for day in days
        for entry in desk.history.about(tank.id, day)
        if isinstance(what := entry.what, Served | Skipped)
    }
    feeds = [feed for feed in desk.room.feeds if feed in tank.feeds or any(feed == given for _, given in got)]
    for feed in feeds:
        cells = []
        for day in days:
            entry = got.get((day, feed))
            cell = "·"
            if entry is not None:
                cell = _given_text(entry.what) if isinstance(entry.what, Served) else "skip"
            elif any(due.feed == feed for due in desk.history.due_in(tank.id, day)):
                cell = "due" if day == desk.day else "miss"
            cells.append(f"{cell[:4]:>4}")
        if any(cell.strip() != "·" for cell in cells):
            rows.append(Content(f"{_short(desk.room.feeds[feed].name, FEED_WIDTH)}{''.join(cells)}"))
    return rows


def _given_text(what: Served) -> str:
    """What was given, in four cells: measures, or mg where it went in by the mix."""
    return measures_text(what.amount) if measurable(what.amount) else f"{what.amount_mg:.0f}m"


def _short(text: str, width: int) -> str:
    """A text cut or filled to a number of cells, counted as a terminal counts them."""
    return Content(text).truncate(width - 1, ellipsis=True, pad=True).plain + " "


def _said_lines(desk: Desk, tank: Tank) -> list[Content]:
    """Notes and leftovers of the last days, newest first."""
    said = []
    for back in range(DAYS_SHOWN):
        day = desk.day - timedelta(days=back)
        for entry in reversed(desk.history.about(tank.id, day)):
            what = entry.what
            if isinstance(what, Observed):
                feed = feed_name(desk.room, what.feed)
                said.append(Content(f"{date_text(day)}: leftovers of {feed}: {what.leftovers}"))
            elif isinstance(what, Noted):
                said.append(Content(f"{date_text(day)}: {what.text} ({entry.by or 'the program'})"))
    return said
