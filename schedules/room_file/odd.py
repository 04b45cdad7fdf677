"""What is legal in a room file and odd all the same: what a keeper may have forgotten, or typed by mistake.

The limits are common practice, no source: they are wide, so that a usual room is never warned of.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date, timedelta
from typing import Final

from schedules.room import Feed, Room, Tank
from schedules.room.kinds import KIND_DEFAULTS, Stage
from schedules.room.needs import stage_spans
from schedules.room_file.faults import KeyPath
from schedules.room_file.show import listed, quoted

MOST_PER_LITRE: Final = 5.0
"""Juveniles, adults and filter feeders in a litre."""
LABEL_FACTOR: Final = 10.0
"""So many times more or less than usual is far from it."""
LONG_PAST: Final = timedelta(days=365)

_YOUNG: Final = frozenset[Stage](("shrimplet", "juvenile"))
_PARENTS: Final = frozenset[Stage](("adult",))
"""Where there are adults, a feed for their young is kept for good reason."""

Oddity = tuple[KeyPath, str]
"""Where it stands in the file, and what is odd."""


def oddities(room: Room, today: date) -> Iterator[Oddity]:
    """Everything odd about a sound room."""
    tanks = [
        (("racks", number, "tanks", place), room.tanks[tank])
        for number, rack in enumerate(room.racks)
        for place, tank in enumerate(rack.tanks)
    ]
    yield from _ids(room)
    for number, keeper in enumerate(room.keepers):
        if keeper.off_dates and max(keeper.off_dates) < today - LONG_PAST:
            yield ("keepers", number, "days_off"), f"the last date of these is long past: {max(keeper.off_dates)}"
    for number, feed in enumerate(room.feeds.values()):
        yield from _feed(("feeds", number), feed, room, today)
    for number, chore in enumerate(room.chores):
        if not chore.places:
            yield ("chores", number), f"{quoted(chore.id)} has no place: no tank fits what it says, so it is never due"
    for path, tank in tanks:
        yield from _tank(path, tank, today)
    yield from _unanswered(room, tanks)


def _ids(room: Room) -> Iterator[Oddity]:
    """Ids that a keeper, or a command typed in a hurry, takes for one another."""
    places = {
        tank: ("racks", number, "tanks", place, "id")
        for number, rack in enumerate(room.racks)
        for place, tank in enumerate(rack.tanks)
    }
    yield from _alike(places.items())
    yield from _alike((feed, ("feeds", number, "id")) for number, feed in enumerate(room.feeds))
    yield from _alike((rack.id, ("racks", number, "id")) for number, rack in enumerate(room.racks))
    yield from _alike((keeper.name, ("keepers", number, "name")) for number, keeper in enumerate(room.keepers))


def _alike(names: Iterable[tuple[str, KeyPath]]) -> Iterator[Oddity]:
    first: dict[str, str] = {}
    for name, path in names:
        other = first.setdefault(name.casefold(), name)
        if other != name:
            yield path, f"{quoted(name)} differs from {quoted(other)} in capital letters only"


def _feed(path: KeyPath, feed: Feed, room: Room, today: date) -> Iterator[Oddity]:
    eaters = feed.stages | _PARENTS if feed.stages & _YOUNG else feed.stages
    if not any(feed.id in tank.feeds and stage_spans(tank, eaters) for tank in room.tanks.values()):
        yield path, f"no tank takes {quoted(feed.id)}: none has the animals it is meant for, or may have it"
    usual = KIND_DEFAULTS[feed.kind]
    usual_label = usual.measure_mg / usual.label_litres_per_measure
    if not 1 / LABEL_FACTOR <= feed.label_mg_per_litre / usual_label <= LABEL_FACTOR:
        found = f"the label's amount comes to {feed.label_mg_per_litre:.3g} mg a day for each litre"
        yield (*path, "label"), f"{found}; usual for kind {feed.kind} is {usual_label:.3g}"
    if feed.best_before is not None and feed.best_before < today - LONG_PAST:
        yield (*path, "best_before"), f"{feed.best_before} is long past"


def _tank(path: KeyPath, tank: Tank, today: date) -> Iterator[Oddity]:
    if not any(here.count for here in tank.animals):
        if not tank.quarantine:  # one that waits for animals is usual
            yield path, "no animals in it, so nothing is planned for it"
        return
    for number, here in enumerate(tank.animals):
        if here.last is not None and here.last < today - LONG_PAST:
            yield (*path, "animals", number, "to"), f"{here.last} is long past; these animals count no more"
    if tank.quarantine and tank.quarantine_days is None:
        yield (*path, "quarantine"), "a quarantine without end; quarantine_days = 30 would give it one"
    heads = sum(tank.count(stage, today) for stage in ("juvenile", "adult", "filter_feeder"))
    if heads > MOST_PER_LITRE * tank.litres:
        found = f"{heads} animals beyond shrimplets in {tank.litres:.3g} L"
        yield (*path, "animals"), f"{found}; more than {MOST_PER_LITRE:g} in a litre is far over the usual"


def _unanswered(room: Room, tanks: Iterable[tuple[KeyPath, Tank]]) -> Iterator[Oddity]:
    """Tables at which animals are to find food, with no feed of their tank for it; said once for all such tanks."""
    found: dict[tuple[str, str], list[tuple[KeyPath, Tank]]] = {}
    for path, tank in tanks:
        for rules in room.clocks.values():
            hungry = [stage for stage in sorted(rules.audience.stages) if stage_spans(tank, frozenset((stage,)))]
            served = [room.feeds[feed] for feed in tank.feeds if room.feeds[feed].kind in rules.kinds]
            for stage in hungry if rules.table else ():
                if not any(stage in feed.stages and not feed.extra for feed in served):
                    here = found.setdefault((stage, " or ".join(sorted(rules.kinds))), [])
                    here += [(path, tank)] if not here or here[-1][1] is not tank else []
    for (name, kinds), places in found.items():
        names = listed((tank.id for _, tank in places), 6)
        yield places[0][0], f"{name.replace('_', ' ')}s without any feed for them of kind {kinds} (tanks {names})"
