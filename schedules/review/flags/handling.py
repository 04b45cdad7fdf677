"""How it was given: on still water unmixed, beside nothing that draws, past its date, far from what was planned."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from typing import Final

from schedules.amounts.ration.remaining import still_due
from schedules.ledger.entries import Skipped
from schedules.review.flags.context import Context, Serving
from schedules.review.flags.evidence import Advice, Handled
from schedules.review.flags.types import Flag
from schedules.room import Feed, Tank
from schedules.room.kinds import ACCOMPANIED

FAR: Final = 3.0
"""An amount this many times what was planned, or this part of it, was hardly meant. Common practice, no source."""


def powder_on_still(context: Context) -> Iterator[Flag]:
    """Fine feeds strewn dry on a surface that nothing stirs, the newest serving of each."""
    for tank in context.tanks():
        if tank.surface != "still":
            continue
        for entry, what in _newest(context, tank):
            feed = context.room.feeds[what.feed]
            if feed.fine and context.rules(tank, feed).method == "surface":
                yield Flag(
                    "powder_on_still",
                    "low",
                    tank.id,
                    feed.id,
                    entry.day,
                    Handled(entry),
                    "stir_first",
                )


def past_date(context: Context) -> Iterator[Flag]:
    """Feeds given after their date, the newest serving of each."""
    for tank in context.tanks():
        for entry, what in _newest(context, tank):
            feed = context.room.feeds[what.feed]
            if feed.best_before is not None and feed.best_before < entry.day:
                yield Flag(
                    "past_date",
                    "low",
                    tank.id,
                    feed.id,
                    entry.day,
                    Handled(entry, best_before=feed.best_before),
                    "open_fresh",
                )


def unaccompanied(context: Context) -> Iterator[Flag]:
    """Tanks that got powder or biofilm feed beside adults while the due feed that draws them was left out.

    One flag a tank. What the plan itself did is no flag, nor is a drawing feed that a rule held back. Today counts once
    nothing that draws is due any more.
    """
    for tank in context.tanks():
        bare = [found for day in context.days if (found := _bare(context, tank, day)) is not None]
        if not bare:
            continue
        entry, what = bare[-1]
        adults = tank.count("adult", entry.day)
        yield Flag(
            "unaccompanied",
            "low",
            tank.id,
            what.feed,
            entry.day,
            Handled(entry, adults, len(bare), bare[0][0].day),
            "draw_first",
        )


def _bare(context: Context, tank: Tank, day: date) -> Serving | None:
    """The first powder or biofilm serving of a day for which a keeper left the drawing feed out, None for none."""
    feeds, given = context.room.feeds, context.served_on(tank, day)
    fine = next((each for each in given if feeds[each[1].feed].kind in ACCOMPANIED), None)
    if fine is None or tank.count("adult", day) == 0 or any(feeds[what.feed].draws for _, what in given):
        return None
    due = {each.feed for each in context.history.due_in(tank.id, day) if each.feed in feeds and feeds[each.feed].draws}
    open_now = {each.feed for each in still_due(context.history, tank.id, day)} if day == context.today else set()
    return fine if due - _held(context, tank, day) and not due & open_now else None


def _held(context: Context, tank: Tank, day: date) -> set[str]:
    """The feeds that were left out on a day because a rule held them back."""
    return {
        entry.what.feed
        for entry in context.history.about(tank.id, day)
        if isinstance(entry.what, Skipped) and entry.what.because.code != "other"
    }


def far_from_planned(context: Context) -> Iterator[Flag]:
    """Amounts many times what was due, or a small part of it: a slip of the finger, perhaps.

    Less than was due is as it should be on a day when something was given that was not planned.
    """
    for tank in context.tanks():
        for day in context.days:
            due = {each.feed: each for each in context.history.due_in(tank.id, day)}
            extra = any(not what.planned for _, what in context.served_on(tank, day))
            for entry, what in context.served_on(tank, day):
                planned = due.get(what.feed)
                if planned is None or planned.amount_mg <= 0:
                    continue
                times = what.amount_mg / planned.amount_mg
                if 1 / FAR < times < FAR or (times < 1 and extra):
                    continue
                yield Flag(
                    "far_from_planned",
                    "medium" if times >= FAR else "low",
                    tank.id,
                    what.feed,
                    day,
                    Handled(entry, planned=planned, times=times),
                    _after_slip(context.room.feeds[what.feed], times),
                    times if times >= FAR else 1 - times,
                )


def _after_slip(feed: Feed, times: float) -> Advice:
    """What to do about an amount far from the one due: what is dissolved cannot be looked for."""
    if times < FAR:
        return "undo_slip"
    return "undo_slip_or_pause_fine" if feed.fine else "undo_slip_or_look"


def _newest(context: Context, tank: Tank) -> Iterator[Serving]:
    """The newest serving of each feed to a tank in the days looked at, feeds in stock only."""
    newest = {each[1].feed: each for day in context.days for each in context.served_on(tank, day)}
    yield from newest.values()
