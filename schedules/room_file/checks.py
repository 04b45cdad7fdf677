"""What is wrong between tables: ids given twice, references to what is not there, rules that an override breaks.

Each check goes through the parts of the file, faulty ones left out, so that everything is reported at once.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Generator, Iterable, Iterator, Mapping
from typing import Final
from zoneinfo import ZoneInfo

from schedules.room.clocks import DEFAULT_CLOCKS, ClockRules
from schedules.room.recurrence import RuleFault, check_rule
from schedules.room.water.quantities import QUANTITIES
from schedules.room_file.build import DEFAULT_ROUND, clock_rules, feed_rules, overridden
from schedules.room_file.chores.build import id_of
from schedules.room_file.chores.sense import MOST_RULES, chore_sense, rule_sense
from schedules.room_file.consistency import (
    Finding,
    animals_sense,
    clock_sense,
    extra_sense,
    protein_sense,
    rules_sense,
    temperature_sense,
    vessel_sense,
    water_sense,
)
from schedules.room_file.faults import KeyPath
from schedules.room_file.makeup_sense import inside_sense, salt_sense, waters_sense
from schedules.room_file.parts import Parts, Placed, PlacedTank
from schedules.room_file.schema.chores import ChoreSpec
from schedules.room_file.schema.feeds import ClockSpec, FeedSpec
from schedules.room_file.schema.ledger_key import WITHOUT_PASSWORD, holds_password
from schedules.room_file.schema.values import MOST_OFF_RULES, MOST_TANKS
from schedules.room_file.show import listed, meant, printable, quoted
from schedules.room_file.water import band_sense, units_of

_ZONE_NAME: Final = re.compile(r"[A-Za-z0-9_+-]{1,40}(?:/[A-Za-z0-9_+-]{1,40}){0,3}")


def check_parts(parts: Parts) -> Iterator[Finding]:
    """Everything that no single value shows."""
    yield from _time_zone(parts.settings.get("time_zone"))
    if holds_password(parts.settings.get("ledger")):
        yield Finding(("ledger",), "an address with a password", WITHOUT_PASSWORD)
    yield from _twice(parts)
    yield from _keepers(parts)
    yield from _rounds(parts)
    room_clocks = yield from _clocks(parts.clocks, DEFAULT_CLOCKS, "as is usual")
    yield from _feeds(parts)
    yield from _outfit(parts)
    yield from _chores(parts)
    for band in parts.bands:
        quantity = next(quantity for quantity in QUANTITIES if quantity == band.path[-1])
        yield from band_sense(band.path, quantity, band.spec, units_of(parts.settings))
    if len(parts.tanks) > MOST_TANKS:
        path = parts.tanks[MOST_TANKS].path
        yield Finding(path, f"{len(parts.tanks)} tanks", f"at most {MOST_TANKS} tanks in a room")
        return
    if parts.has_no_tank:
        yield Finding(("racks",), "no tank", "a room with at least one [[racks.tanks]]")
    units, hardness = parts.settings.get("units", "metric"), parts.settings.get("hardness", "degrees")
    known = dict.fromkeys(name for _, name in parts.ids["feeds"])
    stock = {feed.spec.id: feed.spec for feed in parts.feeds}
    for tank in parts.tanks:
        for animals in tank.animals:
            yield from animals_sense(animals.path, animals.spec)
        if tank.water is not None:
            yield from water_sense(tank.water.path, tank.water.spec, units, hardness)
        if tank.inside is not None:
            yield from inside_sense(tank.inside.path, tank.inside.spec)
        if tank.spec is not None and tank.spec.quarantine_days is not None and not tank.spec.quarantine:
            found = f"{tank.spec.quarantine_days} beside no quarantine"
            yield Finding((*tank.path, "quarantine_days"), found, "days beside quarantine = true")
        if tank.spec is not None and tank.spec.generation is not None and tank.spec.line is None:
            found = f"{tank.spec.generation} beside no line"
            yield Finding((*tank.path, "generation"), found, "a generation beside line = NAME")
        yield from _tank_feeds(tank, known, stock)
        yield from _clocks(tank.clocks, room_clocks, "as the room has it")


def is_time_zone(name: str) -> bool:
    """Whether a name is that of a time zone known here.

    Only what looks like one is looked for: the library takes a name for a module to import, point by point.
    """
    if not _ZONE_NAME.fullmatch(name):
        return False
    try:
        ZoneInfo(name)
    except (OSError, ValueError, KeyError):
        return False
    return True


def zone_meant(name: str) -> str:
    """`; did you mean …?` for a misspelt time zone, also for a city alone; empty where nothing is like it."""
    from zoneinfo import available_timezones

    zones = sorted(available_timezones())
    cities = {zone.rpartition("/")[2].casefold(): zone for zone in zones if "/" in zone}
    city = cities.get(name.strip().replace(" ", "_").casefold())
    return f"; did you mean {quoted(city)}?" if city else meant(name, zones)


def _time_zone(name: str | None) -> Iterator[Finding]:
    if name is not None and not is_time_zone(name):
        allowed = f'the name of a time zone, as in "Europe/Vienna"{zone_meant(name)}'
        yield Finding(("time_zone",), quoted(name), allowed)


def _twice(parts: Parts) -> Iterator[Finding]:
    for kind, ids in parts.ids.items():
        yield from _repeated(ids, f"an id that no other of the {kind} has")
    chores = ((_id_path(chore), name) for chore in parts.chores if (name := id_of(chore.spec)))
    yield from _repeated(chores, "an id that no other of the chores has")
    names = (((*keeper.path, "name"), keeper.spec.name) for keeper in parts.keepers)
    yield from _repeated(names, "a name that no other keeper has")


def _repeated(names: Iterable[tuple[KeyPath, str]], allowed: str) -> Iterator[Finding]:
    first: dict[str, KeyPath] = {}
    for path, name in names:
        if name in first:
            yield Finding(path, quoted(name), allowed, first[name])
        first.setdefault(name, path)


def _keepers(parts: Parts) -> Iterator[Finding]:
    rules_before = 0
    for keeper in parts.keepers:
        path, spec = (*keeper.path, "off_rules"), keeper.spec
        if spec.off_rules and spec.off_from is None:
            yield Finding(path, "rules alone", "rules beside off_from = DATE, the day they count from")
            continue
        for number, rule in enumerate(spec.off_rules):
            rules_before += 1
            if rules_before > MOST_OFF_RULES:
                yield Finding((*path, number), "one rule more", f"at most {MOST_OFF_RULES} rules in a room")
                return
            try:
                if spec.off_from is not None:
                    check_rule(rule, spec.off_from)
            except RuleFault as fault:
                yield Finding((*path, number), printable(fault.found), fault.allowed)


def _id_path(chore: Placed[ChoreSpec]) -> KeyPath:
    return (*chore.path, "id" if chore.spec.id else "template")


def _chores(parts: Parts) -> Iterator[Finding]:
    rounds = list(dict.fromkeys(name for _, name in parts.ids["rounds"])) or [DEFAULT_ROUND.id]
    known = {
        "tanks": dict.fromkeys(name for _, name in parts.ids["tanks"]),
        "racks": dict.fromkeys(name for _, name in parts.ids["racks"]),
        "by": dict.fromkeys(keeper.spec.name for keeper in parts.keepers),
    }
    words = {"tanks": "a tank of this room", "racks": "a rack of this room", "by": "a keeper of this room"}
    rules = 0
    for chore in parts.chores:
        yield from chore_sense(chore.path, chore.spec)
        yield from _reference((*chore.path, "round"), chore.spec.round, rounds, "a round of this room")
        for key, names in known.items():
            for number, name in enumerate(getattr(chore.spec, key) or ()):
                if names:
                    yield from _reference((*chore.path, key, number), name, names, words[key])
                elif key == "by":
                    yield Finding((*chore.path, key, number), quoted(name), "no by: the room names no keeper")
        rules += chore.spec.rule is not None
        if rules > MOST_RULES:
            yield Finding((*chore.path, "rule"), "one rule more", f"at most {MOST_RULES} rules of chores in a room")
            return
        yield from rule_sense(chore.path, chore.spec)


def _rounds(parts: Parts) -> Iterator[Finding]:
    first: dict[object, KeyPath] = {}
    for walk in parts.rounds:
        path, at = (*walk.path, "at"), walk.spec.at
        if at in first:
            yield Finding(path, f"{at}", "a time of its own for each round", first[at])
        first.setdefault(at, path)


def _clocks(
    clocks: Iterable[Placed[ClockSpec]], usual: Mapping[str, ClockRules], elsewhere: str
) -> Generator[Finding, None, dict[str, ClockRules]]:
    """What is wrong with clocks that are set; gives back all clocks with those settings in place."""
    settled = dict(usual)
    for clock in clocks:
        name = str(clock.path[-1])
        if name in usual:
            settled[name] = clock_rules(usual[name], clock.spec)
            yield from clock_sense(clock.path, clock.spec, settled[name], elsewhere)
        else:
            yield from _reference(clock.path, name, usual, "a clock")
    return settled


def _feeds(parts: Parts) -> Iterator[Finding]:
    rounds = list(dict.fromkeys(name for _, name in parts.ids["rounds"])) or [DEFAULT_ROUND.id]
    for feed in parts.feeds:
        yield from _reference((*feed.path, "round"), feed.spec.round, rounds, "a round of this room")
        yield from protein_sense(feed.path, feed.spec)
        yield from extra_sense(feed.path, feed.spec)
        rules = feed_rules(feed.spec)
        yield from rules_sense(feed.path, feed.spec, rules, f"the default of kind {feed.spec.kind}")


def _outfit(parts: Parts) -> Iterator[Finding]:
    units = parts.settings.get("units", "metric")
    for appetite in parts.appetite:
        yield from temperature_sense((*appetite.path, "temperature"), appetite.spec.temperature, units)
    for vessel in parts.vessels:
        yield from vessel_sense(vessel.path, vessel.spec)
    hardness = parts.settings.get("hardness", "degrees")
    yield from waters_sense(((water.path, water.spec) for water in parts.waters), hardness)
    for salt in parts.salts:
        yield from salt_sense(salt.path, salt.spec, hardness)


def _tank_feeds(tank: PlacedTank, known: Collection[str], stock: Mapping[str, FeedSpec]) -> Iterator[Finding]:
    only = tank.spec.feeds if tank.spec is not None else None
    for number, name in enumerate(only or ()):
        yield from _reference((*tank.path, "feeds", number), name, known, "a feed of this room")
    for override in tank.overrides:
        name = str(override.path[-1])
        yield from _reference(override.path, name, known, "a feed of this room")
        if only is not None and name in known and name not in only:
            yield Finding(override.path, quoted(name), f"a feed of this tank: {listed(only)}")
        if name in stock:
            rules = overridden(feed_rules(stock[name]), override.spec)
            yield from rules_sense(override.path, override.spec, rules, f"as the feed {name} has it")


def _reference(path: KeyPath, name: str | None, known: Collection[str], what: str) -> Iterator[Finding]:
    if name is not None and name not in known:
        yield Finding(path, quoted(name), f"{what}: {listed(known)}{meant(name, known)}")
