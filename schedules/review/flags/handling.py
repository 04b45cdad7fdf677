"""How it was given: on still water unmixed, beside nothing that draws, past its date, far from what was planned."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from typing import Final

from schedules.amounts.ration.remaining import still_due
from schedules.review.flags.context import Context, Serving
from schedules.review.flags.evidence import Handled
from schedules.review.flags.types import Flag
from schedules.room import Tank
from schedules.room.days_off import is_day_off
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
    """Tanks that got powder or biofilm feed on days with adults and nothing that draws them; one flag a tank.

    What the plan itself did is no flag: a day counts where something that draws was due, or the fine feed was not. Days
    on which feed is held back anyway (the tank's rest day, a keeper's day off) do not count; today counts once nothing
    that draws is due any more.
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
    """The first powder or biofilm serving of a day on which nothing drew the adults, None where there is none."""
    feeds, given = context.room.feeds, context.served_on(tank, day)
    if not given or tank.count("adult", day) == 0 or any(feeds[what.feed].draws for _, what in given):
        return None
    if day.weekday() == tank.rest_weekday or is_day_off(context.room, day):
        return None
    open_now = still_due(context.history, tank.id, day) if day == context.today else ()
    if any(each.feed in feeds and feeds[each.feed].draws for each in open_now):
        return None
    due = [feeds[each.feed] for each in context.history.due_in(tank.id, day) if each.feed in feeds]
    planned_so = not any(feed.draws for feed in due)
    fine = (each for each in given if feeds[each[1].feed].kind in ACCOMPANIED)
    return next((each for each in fine if not (planned_so and each[1].planned)), None)


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
                    "undo_slip_or_look" if times >= FAR else "undo_slip",
                    times if times >= FAR else 1 - times,
                )


def _newest(context: Context, tank: Tank) -> Iterator[Serving]:
    """The newest serving of each feed to a tank in the days looked at, feeds in stock only."""
    newest = {each[1].feed: each for day in context.days for each in context.served_on(tank, day)}
    yield from newest.values()
