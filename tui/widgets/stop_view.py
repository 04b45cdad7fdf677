"""What there is to know at one stop: what goes in, how much, how and why, what it got lately, what is odd about it."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import timedelta
from typing import Final

from textual.content import Content
from textual.style import Style

from schedules.formatting import clock_text, date_text, method_text
from schedules.ledger import Came, Noted, Observed, Served, Skipped
from schedules.review.flags import Flag
from schedules.room import Room, Tank
from schedules.room.units import volume_text
from schedules.round import RoundServing, Stop
from schedules.round.fresh_hatch import fine_after_hatch
from schedules.session.doubts.animals import isolation_of
from schedules.session.session import Session
from schedules.wording.amounts import draw_off_text, remaining_text
from schedules.wording.animals.lives import young_text
from schedules.wording.animals.quarantine import stop_texts
from schedules.wording.doses import given_text, taken
from schedules.wording.entries import STAGE_TEXT, feed_name, reason_text
from schedules.wording.flags import advice_text, evidence_text
from schedules.wording.refusals import refusal_text, why_text
from tui.widgets.cells import cells, cut, fit, short, unbracketed
from tui.widgets.chore_view import chore_lines, chores_only
from tui.widgets.grids.strip import strip_lines
from tui.widgets.text_lines import INDENT, styled, under

KEEPER_WIDTH: Final = 24
"""Cells of a keeper's name beside what was marked."""
SAID_DAYS: Final = 7
FLAGS_SHOWN: Final = 2
FEW: Final = 2
"""So many servings and chores leave room for all that is to be said of a chore."""
ROOMY: Final = 28
"""From so many lines on there is room for blank lines, all flags and two weeks."""
AROUND: Final = 5
"""Lines of a screen around the stop: the bar, the news, the keys, and that there is more to read."""
HOLD: Final = "HOLD BACK"


def stop_content(
    session: Session,
    stop: Stop,
    flags: Sequence[Flag],
    width: int,
    height: int,
    flags_key: str = "f",
    young_key: str = "G",
) -> Content:
    """Everything about a stop, as lines of `width` cells to read from top to bottom."""
    if stop.tank is None:
        return Content("\n").join(chores_only(session, stop, width))
    tank, roomy = session.room.tanks[stop.tank], height >= ROOMY
    few = len(stop.states) <= FEW
    lines = [*tank_lines(session, tank, width, young_key), Content("")]
    lines += stop_lines(session, stop, width, apart=roomy or len(stop.states) == 1)
    lines += chore_lines(session, stop, width, in_full=roomy or few)
    if stop.chores and len(lines) > height - AROUND:
        lines = tank_lines(session, tank, width, young_key, brief=True)
        lines += stop_lines(session, stop, width, brief=True)
        lines += chore_lines(session, stop, width, in_full=False)
    lines += flag_lines(session.room, flags, width, len(flags) if roomy else FLAGS_SHOWN, flags_key)
    if lines[-1].plain:
        lines.append(Content(""))
    lines += strip_lines(session, tank, width, 14 if roomy else 7)
    lines += said_lines(session, tank, width, SAID_DAYS)
    return Content("\n").join(lines)


def tank_lines(session: Session, tank: Tank, width: int, young_key: str = "G", *, brief: bool = False) -> list[Content]:
    """Which tank this is, where it stands, what lives in it, and the feed offered for a hatch that is news today.

    Where it stands is left out if `brief`.
    """
    berried = sum(here.berried for here in tank.animals if here.on(session.day))
    counts = ((tank.count(stage, session.day), text) for stage, text in STAGE_TEXT.items())
    lives = ", ".join(f"{count} {text}" for count, text in counts if count) or "no animals noted"
    place = f"{tank.place} · " if tank.place else ""
    where = f"{place}{volume_text(tank.litres, session.room.units)} · {tank.surface} surface · {tank.grazing} grazing"
    lines = [
        Content.styled(cut(tank.label, width), "bold $primary"),
        *styled(lives + (f" ({berried} berried)" if berried else ""), width, ""),
        *([] if brief else [Content.styled(cut(where, width), "$quiet")]),
    ]
    for hatch in (each for each in tank.animals if each.expected and each.on(session.day)):
        text = "hatch expected" if hatch.last is None else f"hatch expected now, until {date_text(hatch.last)}"
        lines.append(Content.styled(cut(text, width), "bold"))
    made = fine_after_hatch(session.room, session.history, session.day, tank.id)
    if made is not None:
        dose = given_text(session.room, session.doses, made)
        lines += styled(young_text(session.room, made.feed, dose, young_key), width, "bold $success")
    if tank.quarantine:
        asks, lasts = stop_texts(session.room, isolation_of(tank, session.life, session.day))
        lines += [*styled(asks, width, "bold $warning"), *styled(lasts, width, "$warning")]
    return lines


def stop_lines(session: Session, stop: Stop, width: int, *, apart: bool = False, brief: bool = False) -> list[Content]:
    """The servings of a stop, with a blank line after each where they stand apart; if `brief`, in two lines each."""
    lines = []
    if stop.draw_off is not None:
        style = "bold" if stop.draw_off.feed is not None else "$quiet"
        lines += styled(draw_off_text(session.room, stop.draw_off), width, style, hanging=INDENT)
        lines += [Content("")] if apart else []
    column = max([8, *(cells(_amount(session, serving)) for serving in stop.servings)])
    for number, serving in enumerate(stop.servings, 1):
        tap = Style.from_meta({"@click": f"screen.serving({number})"})
        lines += [line.stylize(tap) for line in _serving_lines(session, number, serving, column, width, brief=brief)]
        lines += [Content("")] if apart else []
    return lines


def flag_lines(room: Room, flags: Sequence[Flag], width: int, shown: int, flags_key: str) -> list[Content]:
    """The worst flags with what to do; of the others, how many there are."""
    lines = []
    for flag in flags[:shown]:
        lines += styled(f"! {evidence_text(room, flag)}. {advice_text(room, flag)}", width, "$warning", hanging=2)
    more = len(flags) - shown
    if more > 0:
        lines.append(Content.styled(f"! and {more} more: {flags_key} shows all flags", "$warning"))
    return lines


def said_lines(session: Session, tank: Tank, width: int, days: int) -> list[Content]:
    """Notes, leftovers and who came on the last days, newest first."""
    lines = []
    for back in range(days):
        day = session.day - timedelta(days=back)
        for entry in reversed(session.history.about(tank.id, day)):
            what = entry.what
            if isinstance(what, Observed):
                text = f"{date_text(day)}: leftovers of {feed_name(session.room, what.feed)}: {what.leftovers}"
            elif isinstance(what, Came):
                text = f"{date_text(day)}: came to {feed_name(session.room, what.feed)}: {what.came}"
            elif isinstance(what, Noted):
                text = f"{date_text(day)}: {what.text} ({entry.by or 'the program'})"
            else:
                continue
            lines += styled(text, width, "", hanging=2)
    return lines


def _amount(session: Session, serving: RoundServing) -> str:
    """What stands first at a serving: how much to give, or that it is held back, or what became of it."""
    if serving.state == "due":
        return HOLD if serving.held is not None else taken(session.doses, serving.due).amount
    return serving.state


def _serving_lines(
    session: Session, number: int, serving: RoundServing, column: int, width: int, *, brief: bool
) -> list[Content]:
    head, *below = _serving_in_full(session, number, serving, column, width)
    if not brief or len(below) < 2:
        return [head, *below]
    first = _below(session, serving)
    return [head, Content.styled(" " * INDENT + cut(first, width - INDENT), "$warning" if serving.held else "")]


def _below(session: Session, serving: RoundServing) -> str:
    """What stands first below a serving: how it is given, or why it is held back, or what became of it."""
    if serving.state != "due":
        return _settled_text(session, serving)
    if not session.is_due(serving):
        return "NOT SAVED YET: the mark waits and is tried again"
    if serving.held is not None:
        return refusal_text(session.room, serving.held, session.doses)
    return _how(session, serving)


def _serving_in_full(session: Session, number: int, serving: RoundServing, column: int, width: int) -> list[Content]:
    amount = fit(_amount(session, serving), column)
    name = _name(session, serving, width - INDENT - column - 2)
    if serving.state != "due":
        return [
            Content.styled(f"{number:<{INDENT}}{amount}  {name}", _settled_style(serving)),
            *under(_below(session, serving), width, "$quiet"),
        ]
    style = "bold $warning" if serving.held is not None else "bold $accent"
    head = Content.assemble((f"{number:<{INDENT}}", "bold"), (amount, style), ("  " + name, "bold"))
    if not session.is_due(serving):
        return [head, *under(_below(session, serving), width, "bold $error")]
    if serving.held is not None:
        return [
            head,
            *under(_below(session, serving), width, "$warning"),
            *under("leave it out: done marks it skipped for this reason", width, "$quiet"),
        ]
    less = "" if serving.shrunk is None else remaining_text(session.room, serving.due.feed, serving.shrunk)
    return [
        head,
        *under(_below(session, serving), width, ""),
        *(under(f"less than planned: {less}", width, "$warning") if less else []),
        *under(why_text(session.room, serving.why), width, "$quiet"),
    ]


def _name(session: Session, serving: RoundServing, width: int) -> str:
    """The feed's name, and that it is its mix which is given."""
    if serving.state != "due" or serving.held is not None or not taken(session.doses, serving.due).mixed:
        return short(serving.feed_name, width)
    return f"{short(unbracketed(serving.feed_name), width - 4)} mix"


def _how(session: Session, serving: RoundServing) -> str:
    found = taken(session.doses, serving.due)
    vessel = f"with the {found.vessel}" if found.vessel else ""
    return " · ".join(part for part in (vessel, method_text(serving.due.method, mixed=found.mixed), found.mg) if part)


def _settled_style(serving: RoundServing) -> str:
    return {"given": "$success", "missed": "$error"}.get(serving.state, "$quiet")


def _settled_text(session: Session, serving: RoundServing) -> str:
    """How much was given or why it was left out, when and by whom."""
    marked = serving.marked
    if marked is None:
        return ""
    when = f"{clock_text(marked.at, session.room.zone)} {cut(marked.by or 'the program', KEEPER_WIDTH)}"
    if isinstance(marked.what, Skipped):
        return f"{when}: {reason_text(marked.what.because)}"
    if isinstance(marked.what, Served):
        what = marked.what
        dose = given_text(session.room, session.doses, what)
        return f"{when}: {dose}" + (", as extra" if what.broke else "" if serving.planned else ", was not due")
    return when
