"""How it was given: on still water unmixed, beside no solid feed, past its date, far from what was planned."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from typing import Final

from schedules.amounts.ration.remaining import still_due
from schedules.formatting import amount_text, date_text, mg_text, number_text
from schedules.review.flags.look import Look, Serving, given_text
from schedules.review.flags.types import Flag
from schedules.room import Tank
from schedules.room.days_off import is_day_off
from schedules.room.kinds import ACCOMPANIED

FAR: Final = 3.0
"""An amount this many times what was planned, or this part of it, was hardly meant. Common practice, no source."""


def powder_on_still(look: Look) -> Iterator[Flag]:
    """Fine feeds strewn dry on a surface that nothing stirs, the newest serving of each."""
    for tank in look.tanks():
        if tank.surface != "still":
            continue
        for entry, what in _newest(look, tank):
            feed = look.room.feeds[what.feed]
            if feed.fine and look.rules(tank, feed).method == "surface":
                yield Flag(
                    "powder_on_still",
                    "low",
                    tank.id,
                    feed.id,
                    entry.day,
                    f"{feed.name} strewn on a still surface ({look.when(entry)}), where it floats for a quarter hour",
                    "Stir it into a cup of tank water first, or set an air stone for the round.",
                )


def past_date(look: Look) -> Iterator[Flag]:
    """Feeds given after their date, the newest serving of each."""
    for tank in look.tanks():
        for entry, what in _newest(look, tank):
            feed = look.room.feeds[what.feed]
            if feed.best_before is not None and feed.best_before < entry.day:
                yield Flag(
                    "past_date",
                    "low",
                    tank.id,
                    feed.id,
                    entry.day,
                    f"{feed.name}, best before {date_text(feed.best_before)} {feed.best_before.year}, "
                    f"given {look.when(entry)}",
                    f"Open a fresh {feed.name} and write its new date into the room file.",
                )


def unaccompanied(look: Look) -> Iterator[Flag]:
    """Tanks that got powder or biofilm feed on days with adults and no solid feed to draw them away; one flag a tank.

    Days on which solid feed is held back anyway (the tank's rest day, a keeper's day off) do not count; today counts
    once nothing solid is due any more.
    """
    for tank in look.tanks():
        bare = [found for day in look.days if (found := _bare(look, tank, day)) is not None]
        if not bare:
            continue
        entry, what = bare[-1]
        times = "" if len(bare) == 1 else f", as on {len(bare)} days since {date_text(bare[0][0].day)}"
        yield Flag(
            "unaccompanied",
            "low",
            tank.id,
            what.feed,
            entry.day,
            f"{look.feed_name(what.feed)} given ({look.when(entry)}) beside no solid feed, "
            f"with {tank.count('adult', entry.day)} adults{times}",
            "Give a small solid feed along with it the next time, so that the adults leave the fine feed alone.",
        )


def _bare(look: Look, tank: Tank, day: date) -> Serving | None:
    """The first powder or biofilm serving of a day on which adults got nothing solid, None where there is none."""
    given = look.served_on(tank, day)
    solid = any(not look.room.feeds[what.feed].fine for _, what in given)
    if not given or solid or tank.count("adult", day) == 0:
        return None
    if day.weekday() == tank.rest_weekday or is_day_off(look.room, day):
        return None
    due = still_due(look.history, tank.id, day) if day == look.today else ()
    if any(each.feed in look.room.feeds and not look.room.feeds[each.feed].fine for each in due):
        return None
    return next((each for each in given if look.room.feeds[each[1].feed].kind in ACCOMPANIED), None)


def far_from_planned(look: Look) -> Iterator[Flag]:
    """Amounts many times what was due, or a small part of it: a slip of the finger, perhaps.

    Less than was due is as it should be on a day when something was given that was not planned.
    """
    for tank in look.tanks():
        for day in look.days:
            due = {each.feed: each for each in look.history.due_in(tank.id, day)}
            extra = any(not what.planned for _, what in look.served_on(tank, day))
            for entry, what in look.served_on(tank, day):
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
                    f"{look.feed_name(what.feed)}: {given_text(what)} given ({look.when(entry)}), planned "
                    f"{amount_text(planned.amount, planned.unit)} ({mg_text(planned.amount_mg)}): "
                    f"{number_text(times)} times that",
                    "Undo the mark and write the true amount, if it was a slip; else look for leftovers today."
                    if times >= FAR
                    else "Undo the mark and write the true amount, if it was a slip.",
                    times if times >= FAR else 1 - times,
                )


def _newest(look: Look, tank: Tank) -> Iterator[Serving]:
    """The newest serving of each feed to a tank in the days looked at, feeds in stock only."""
    newest = {each[1].feed: each for day in look.days for each in look.served_on(tank, day)}
    yield from newest.values()
