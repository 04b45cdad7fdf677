"""What is wrong although each key by itself is right: ids given twice, unknown references, keys that contradict.

Each check goes through the parts of the file and yields findings; where a finding speaks of a second place, its line
is put in by the caller. The hard limits of planning stand in `schedules.rules`; here is only what no plan could keep.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from math import ceil
from zoneinfo import ZoneInfo

from schedules.days_off import OffRuleFault, parsed_rule
from schedules.room import FeedRules
from schedules.room_file.build import DEFAULT_GROUP_GAPS, DEFAULT_ROUND, feed_rules, overridden
from schedules.room_file.parts import Parts, PlacedTank
from schedules.room_file.positions import Path
from schedules.room_file.schema import NO_GROUP, FeedSpec, RulesSpec, WaterSpec
from schedules.room_file.suggest import listed, meant
from schedules.units import number_text

TEMPERATURES = {"metric": (0.0, 45.0, "°C", "us", "°F"), "us": (32.0, 113.0, "°F", "metric", "°C")}
HARDNESSES = {"degrees": (0.0, 60.0, "degrees"), "mg/L": (0.0, 1000.0, "mg/L")}


@dataclass(frozen=True, slots=True)
class Finding:
    """A fault at a path; `also` is the path of the place that the message's `{line}` speaks of."""

    path: Path
    message: str
    also: Path | None = None


def check_parts(parts: Parts) -> Iterator[Finding]:
    """Everything that no single value shows."""
    yield from _time_zone(parts)
    yield from _twice(parts)
    yield from _enough(parts)
    yield from _keepers(parts)
    yield from _rounds(parts)
    yield from _feeds(parts)
    for tank in parts.tanks:
        yield from _animals(tank)
        yield from _water(tank, parts)
        yield from _tank_feeds(tank, parts)


def _time_zone(parts: Parts) -> Iterator[Finding]:
    name = parts.settings.get("time_zone")
    if name is None or is_time_zone(name):
        return
    yield Finding(
        ("time_zone",),
        f'found "{name[:60]}", allowed is the name of a time zone, as in "Europe/Vienna"{zone_meant(name)}',
    )


def is_time_zone(name: str) -> bool:
    """Whether a name is that of a time zone known here."""
    try:
        ZoneInfo(name)
    except (OSError, ValueError, KeyError):
        return False
    return True


def zone_meant(name: str) -> str:
    """A suggestion for a misspelt time zone, also by its city alone; empty if nothing is like it."""
    from zoneinfo import available_timezones

    zones = sorted(available_timezones())
    cities = {zone.rpartition("/")[2].casefold(): zone for zone in zones if "/" in zone}
    city = cities.get(name.strip().replace(" ", "_").casefold())
    return f'; did you mean "{city}"?' if city else meant(name, zones)


def _twice(parts: Parts) -> Iterator[Finding]:
    for kind, ids in parts.ids.items():
        yield from _repeated(ids, f"an id that no other of the {kind} has")
    yield from _repeated(
        (((*keeper.path, "name"), keeper.spec.name) for keeper in parts.keepers), "a name that no other keeper has"
    )


def _repeated(names: Iterable[tuple[Path, str]], allowed: str) -> Iterator[Finding]:
    first: dict[str, Path] = {}
    for path, name in names:
        if name in first:
            yield Finding(
                path, f'found "{name[:60]}" again (first on line {{line}}), allowed is {allowed}', first[name]
            )
        else:
            first[name] = path


def _enough(parts: Parts) -> Iterator[Finding]:
    if not parts.tanks:
        yield Finding(("racks",), "found no tank, allowed is a room with at least one [[racks.tanks]]")


def _keepers(parts: Parts) -> Iterator[Finding]:
    for keeper in parts.keepers:
        spec = keeper.spec
        if spec.off_rules and spec.off_from is None:
            yield Finding(
                (*keeper.path, "off_rules"),
                "found rules without off_from, allowed are rules beside off_from = DATE, the day they count from",
            )
            continue
        for number, rule in enumerate(spec.off_rules):
            try:
                if spec.off_from is not None:
                    parsed_rule(rule, spec.off_from)
            except OffRuleFault as fault:
                yield Finding(
                    (*keeper.path, "off_rules", number),
                    f'found {fault}; allowed is a recurrence rule of days, as in "FREQ=WEEKLY;INTERVAL=2;BYDAY=SA"',
                )


def _rounds(parts: Parts) -> Iterator[Finding]:
    first: dict[object, Path] = {}
    for walk in parts.rounds:
        path = (*walk.path, "at")
        if walk.spec.at in first:
            yield Finding(
                path,
                f"found {walk.spec.at} again (first on line {{line}}), allowed is a time of its own for each round",
                first[walk.spec.at],
            )
        first.setdefault(walk.spec.at, path)


def _feeds(parts: Parts) -> Iterator[Finding]:
    rounds = [name for _, name in parts.ids["rounds"]] or [DEFAULT_ROUND.id]
    groups = [*DEFAULT_GROUP_GAPS, *(str(group.path[-1]) for group in parts.groups), NO_GROUP]
    for feed in parts.feeds:
        yield from _reference((*feed.path, "round"), feed.spec.round, rounds, "a round of this room")
        yield from _reference((*feed.path, "group"), feed.spec.group, groups, "a group of this room")
        yield from _protein(feed.path, feed.spec)
        yield from _rules(feed.path, feed.spec, feed_rules(feed.spec), f"the default of kind {feed.spec.kind}")


def _reference(path: Path, name: str | None, known: list[str], what: str) -> Iterator[Finding]:
    if name is not None and name not in known:
        known = list(dict.fromkeys(known))
        yield Finding(path, f'found "{name}", allowed is {what}: {listed(known)}{meant(name, known)}')


def _protein(path: Path, spec: FeedSpec) -> Iterator[Finding]:
    if spec.protein is not None and 0 < spec.protein < 1:
        yield Finding(
            (*path, "protein"),
            f"found {spec.protein}, allowed is percent of dry feed as on the pack, 0 or from 1 to 100"
            f"; did you mean {number_text(spec.protein * 100)}?",
        )


def _rules(path: Path, spec: RulesSpec, rules: FeedRules, elsewhere: str) -> Iterator[Finding]:
    """Rules that contradict one another, said of the key that the file sets here."""
    if rules.min_gap > rules.max_gap:
        if spec.min_gap is not None:
            other = "" if spec.max_gap is not None else f", {elsewhere}"
            message = f"found {rules.min_gap}, allowed is at most max_gap ({rules.max_gap}{other})"
            yield Finding((*path, "min_gap"), message)
        elif spec.max_gap is not None:
            message = f"found {rules.max_gap}, allowed is at least min_gap ({rules.min_gap}, {elsewhere})"
            yield Finding((*path, "max_gap"), message)
    most = ceil(7 / rules.min_gap)
    if rules.per_week > most and (spec.per_week is not None or spec.min_gap is not None):
        key = "per_week" if spec.per_week is not None else "min_gap"
        other = "" if spec.per_week is not None else f", {elsewhere}"
        yield Finding(
            (*path, key),
            f"found {number_text(rules.per_week, 2)} servings a week{other} with {rules.min_gap} days between them, "
            f"allowed is at most {most} a week (per_week) with that min_gap",
        )


def _animals(tank: PlacedTank) -> Iterator[Finding]:
    for here in tank.animals:
        spec = here.spec
        if spec.first is not None and spec.last is not None and spec.first > spec.last:
            yield Finding((*here.path, "to"), f"found {spec.last}, allowed is a date not before from ({spec.first})")
        if spec.berried > spec.count:
            yield Finding((*here.path, "berried"), f"found {spec.berried}, allowed is at most count ({spec.count})")
        elif spec.berried and spec.stage in ("shrimplet", "juvenile"):
            yield Finding(
                (*here.path, "berried"),
                f'found {spec.berried} of stage "{spec.stage}", allowed is berried with "adult" or "filter_feeder"',
            )


def _water(tank: PlacedTank, parts: Parts) -> Iterator[Finding]:
    if tank.water is None:
        return
    path, spec = tank.water.path, tank.water.spec
    units = parts.settings.get("units", "metric")
    if spec.temperature is not None and units in TEMPERATURES:
        low, high, unit, other_units, other_unit = TEMPERATURES[units]
        if not low <= spec.temperature <= high:
            yield Finding(
                (*path, "temperature"),
                f"found {spec.temperature}, allowed is {low:.0f} to {high:.0f} {unit} "
                f'({other_unit} with units = "{other_units}")',
            )
    yield from _hardness(path, spec, parts.settings.get("hardness", "degrees"))


def _hardness(path: Path, spec: WaterSpec, hardness: str) -> Iterator[Finding]:
    if hardness not in HARDNESSES:
        return
    low, high, unit = HARDNESSES[hardness]
    for key, value in (("gh", spec.gh), ("kh", spec.kh)):
        if value is not None and not low <= value <= high:
            hint = ' (mg/L with hardness = "mg/L")' if hardness == "degrees" else ""
            yield Finding((*path, key), f"found {value}, allowed is {low:.0f} to {high:.0f} {unit}{hint}")


def _tank_feeds(tank: PlacedTank, parts: Parts) -> Iterator[Finding]:
    known = [name for _, name in parts.ids["feeds"]]
    only = tank.spec.feeds if tank.spec is not None else None
    for number, name in enumerate(only or ()):
        yield from _reference((*tank.path, "feeds", number), name, known, "a feed of this room")
    stock = {feed.spec.id: feed.spec for feed in parts.feeds}
    for override in tank.overrides:
        name = str(override.path[-1])
        yield from _reference(override.path, name, known, "a feed of this room")
        if only is not None and name in known and name not in only:
            yield Finding(override.path, f'found "{name}", allowed is a feed of this tank: {listed(only)}')
        if name in stock:
            rules = overridden(feed_rules(stock[name]), override.spec)
            yield from _rules(override.path, override.spec, rules, f"as {name} has it in this room")
