"""A tank's life at a glance: who lives in it, the last weeks as a strip and bars, flags, notes, what comes next."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from datetime import date, timedelta
from typing import Final

from textual.content import Content

from schedules.formatting import WEEKDAYS, date_text, day_text
from schedules.review.flags import Flag
from schedules.room import Presence, Room, Tank
from schedules.room.units import hardness_text, number_text, temperature_text
from schedules.round import Stop
from schedules.session.session import Session
from schedules.wording.entries import STAGE_TEXT
from tui.widgets.breakdown import hanging
from tui.widgets.cells import fit, short
from tui.widgets.chore_view import chore_lines
from tui.widgets.grids.strip import NAME, last_days, leftovers_on, sign_lines
from tui.widgets.stop_view import flag_lines, said_lines, stop_lines, tank_lines

DAYS: Final = 28
BARS: Final = " ▁▂▃▄▅▆▇█"
"""Eighths of a cell, from nothing to all of it."""
BAR_LINES: Final = 2
COMING_DAYS: Final = 10
LEGEND: Final = "■ given  x skipped  ? missed  o due today  · nothing;  left lying: n none  s some  m most"


def tank_content(
    session: Session, tank: Tank, stop: Stop | None, flags: Sequence[Flag], width: int, young_key: str = "G"
) -> Content:
    """Everything about a tank, `width` cells wide."""
    lines = [*tank_lines(session, tank, width, young_key), *_water_lines(session.room, tank, width)]
    lines += [Content(""), _head("Today")]
    if stop is None:
        lines.append(Content("nothing is due in this round"))
    else:
        lines += stop_lines(session, stop, width) + chore_lines(session, stop, width, in_full=False)
    lines += flag_lines(session.room, flags, width, len(flags), "")
    lines += [Content(""), *_weeks(session, tank, width)]
    lines += [Content(""), _head("Lives here"), *_life_lines(tank, session.day, width)]
    lines += [Content(""), _head("Comes next"), *_coming_lines(session, tank, width)]
    said = said_lines(session, tank, width, DAYS)
    lines += [Content(""), _head("Notes and leftovers"), *(said or [Content("none in the last weeks")])]
    return Content("\n").join(lines)


def _head(text: str) -> Content:
    return Content.styled(text, "bold $primary")


def _water_lines(room: Room, tank: Tank, width: int) -> Iterator[Content]:
    water, units = tank.water, room.units
    parts = [
        temperature_text(water.temperature, units) if water.temperature is not None else "",
        f"pH {number_text(water.ph)}" if water.ph is not None else "",
        hardness_text(water.gh, units, "GH") if water.gh is not None else "",
        hardness_text(water.kh, units, "KH") if water.kh is not None else "",
        f"{number_text(water.tds, 0)} mg/L dissolved" if water.tds is not None else "",
        f"rests on {WEEKDAYS[tank.rest_weekday]}" if tank.rest_weekday is not None else "no rest day",
    ]
    yield from hanging(" · ".join(part for part in parts if part), width, "$quiet")


def _weeks(session: Session, tank: Tank, width: int) -> Iterator[Content]:
    """The last weeks, two cells a day: dates, feeds, the part of the ration given as bars, leftovers."""
    days = last_days(session.day, max(7, min(DAYS, (width - NAME) // 2)))
    yield _head(f"The last {len(days)} days")
    dates = "".join(f"{day.day:<2}" if day.weekday() == 0 or day == days[0] else "  " for day in days)
    yield Content.styled(f"{'Mondays':<{NAME}}{dates}", "$quiet")
    yield from sign_lines(session, tank, days)
    shares = [session.history.part_on(tank.id, day) for day in days]
    for number, bars in enumerate(bar_lines(shares, max(1.0, *shares), BAR_LINES)):
        label = fit("part of ration" if number == BAR_LINES - 1 else "", NAME)
        yield Content.assemble(label, ("".join(f"{bar} " for bar in bars), "$accent"))
    left = "".join(f"{word[:1] or '·'} " for word in leftovers_on(session, tank, days))
    yield Content(f"{'left lying':<{NAME}}{left}")
    yield from hanging(LEGEND, width, "$quiet", indent=0)


def bar_lines(values: Sequence[float], top: float, height: int) -> list[str]:
    """Bars of `height` lines for values from 0 to `top`, the topmost line first; what is above 0 shows at least ▁."""
    levels = [max(1, round(value / top * 8 * height)) if value > 0 else 0 for value in values]
    return ["".join(BARS[min(8, max(0, level - 8 * line))] for level in levels) for line in range(height - 1, -1, -1)]


def _life_lines(tank: Tank, today: date, width: int) -> Iterator[Content]:
    now = [here for here in tank.animals if here.on(today)]
    coming = [here for here in tank.animals if here.first is not None and here.first > today]
    if not now and not coming:
        yield Content("no animals noted")
    for here in now:
        yield from hanging(_presence_text(here), width, "")
    for here in coming:
        yield from hanging(f"to come: {_presence_text(here)}", width, "$quiet")


def _presence_text(here: Presence) -> str:
    berried = f", {here.berried} berried" if here.berried else ""
    since = f", from {date_text(here.first)}" if here.first else ""
    until = f", to {date_text(here.last)}" if here.last else ""
    expected = " expected" if here.expected else ""
    return f"{here.count} {STAGE_TEXT[here.stage]}{expected}{berried}{since}{until}"


def _coming_lines(session: Session, tank: Tank, width: int) -> Iterable[Content]:
    """What the posted plan gives on the coming days."""
    posting = session.plan
    for ahead in range(1, COMING_DAYS + 1):
        day = session.day + timedelta(days=ahead)
        due = [each for each in posting.due(day) if each.tank == tank.id] if posting else []
        names = [session.room.feeds[each.feed].name if each.feed in session.room.feeds else each.feed for each in due]
        if names:
            text = f"{day_text(day, session.day)}: {', '.join(short(name, 24) for name in names)}"
            yield from hanging(text, width, "")
