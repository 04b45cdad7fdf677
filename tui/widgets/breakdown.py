"""The arithmetic behind an amount and behind a flag, as lines to read."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date, timedelta
from typing import Final

from textual.content import Content

from schedules.amounts import account_of_day
from schedules.formatting import clock_text, date_text, mg_text
from schedules.ledger import Came, Observed, Served
from schedules.review.flags import Flag
from schedules.room import Feed, Room, Tank
from schedules.room.units import number_text
from schedules.session.session import Session
from schedules.wording.amounts import SOURCES, spread_text, step_text
from schedules.wording.entries import STAGE_TEXT, feed_name
from schedules.wording.flags import advice_text, evidence_text
from schedules.wording.glossary import FLAG_MEANS
from schedules.wording.hand import serving_text
from schedules.wording.needs import need_rules_text
from tui.widgets.cells import wrap

DAYS: Final = 8


def stop_lines(session: Session, tank: Tank, feeds: Iterable[str], width: int) -> list[Content]:
    """How the amounts of some feeds in a tank come about, one below the other."""
    known = [session.room.feeds[feed] for feed in feeds if feed in session.room.feeds]
    lines = [line for feed in known for line in (*amount_lines(session, tank, feed, width), Content(""))]
    return lines[:-1] or [Content("no feed of this tank is in stock")]


def amount_lines(session: Session, tank: Tank, feed: Feed, width: int) -> Iterator[Content]:
    """How a usual serving of a feed in a tank comes about, each number with its source."""
    found = account_of_day(session.room, session.history, tank, feed, session.day)
    yield Content.styled(feed.name, "bold $primary")
    for step in found.steps:
        value = f"{number_text(step.value, 3)} {step.unit}".rstrip()
        spread = f" ({spread_text(step)})" if spread_text(step) else ""
        yield from hanging(f"{step_text(step)}: {value}{spread}", width, "")
        yield from (Content.styled(f"    {line}", "$quiet") for line in wrap(SOURCES[step.source], width - 4))
    yield from hanging(_rules_text(session.room, feed, tank), width, "")


def flag_reckoning(session: Session, flag: Flag, width: int) -> Iterator[Content]:
    """What a flag means, what was found, and the entries and rules it was worked out from."""
    tank = session.room.tanks[flag.tank]
    yield from hanging(FLAG_MEANS[flag.kind], width, "$quiet")
    yield from hanging(f"Found: {evidence_text(session.room, flag)}.", width, "bold")
    yield from hanging(f"Do: {advice_text(session.room, flag)}", width, "$accent")
    yield Content("")
    yield Content.styled("What the tank got", "bold $primary")
    for back in range(DAYS):
        yield from _day_lines(session, tank, flag.day - timedelta(days=back), width)
    feed = session.room.feeds.get(flag.feed or "")
    if feed is not None:
        yield Content("")
        yield from hanging(_rules_text(session.room, feed, tank), width, "")


def _day_lines(session: Session, tank: Tank, day: date, width: int) -> Iterator[Content]:
    about = session.history.about(tank.id, day)
    total = session.history.part_on(tank.id, day)
    for entry in about:
        what = entry.what
        if isinstance(what, Served):
            dose = serving_text(session.room, what)
            text = f"{feed_name(session.room, what.feed)}, {dose}, {number_text(what.part, 2)} of the day's ration"
        elif isinstance(what, Observed):
            text = f"leftovers of {feed_name(session.room, what.feed)}: {what.leftovers}"
        elif isinstance(what, Came):
            text = f"came to {feed_name(session.room, what.feed)}: {what.came}"
        else:
            continue
        when = f"{date_text(day)} {clock_text(entry.at, session.room.zone)} {entry.by or ''}".rstrip()
        yield from hanging(f"{when}: {text}", width, "")
    if total > 0:
        yield Content.styled(f"    sum of {date_text(day)}: {number_text(total, 2)} of 1", "$quiet")


def _rules_text(room: Room, feed: Feed, tank: Tank) -> str:
    rules = tank.feeds.get(feed.id, feed.rules)
    stages = " and ".join(STAGE_TEXT[stage] for stage in STAGE_TEXT if stage in feed.stages)
    needs = f"{said}; " if (said := need_rules_text(room, tank, feed)) else ""
    return (
        f"Rules of {feed.name} in {tank.id}: for {stages}; {needs}"
        f"{number_text(rules.share, 2)} to {number_text(rules.most, 2)} of a day's ration; "
        f"gone after {number_text(rules.gone_after_hours)} hours; "
        f"one {feed.measure.name} weighs {mg_text(feed.measure.mg)}"
    )


def hanging(text: str, width: int, style: str, indent: int = 4) -> Iterator[Content]:
    """A text in one style; its lines from the second on stand in."""
    first, *rest = wrap(text, max(8, width - indent))
    yield Content.styled(first, style)
    for line in rest:
        yield Content.styled(" " * indent + line, style)
