"""What is wrong within one table although each of its keys is right: keys that contradict, numbers in another unit."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from math import ceil
from typing import Final

from schedules.room import ClockRules, FeedRules
from schedules.room.kinds import is_fine
from schedules.room_file.faults import KeyPath
from schedules.room_file.schema.equipment import VesselSpec
from schedules.room_file.schema.feeds import ClockSpec, FeedSpec, RulesSpec
from schedules.room_file.schema.tanks import AnimalsSpec, WaterSpec

_TEMPERATURES: Final = {
    "metric": (0.0, 45.0, '0 to 45 °C (°F with units = "us")'),
    "us": (32.0, 113.0, '32 to 113 °F (°C with units = "metric")'),
}
_HARDNESSES: Final = {
    "degrees": (0.0, 60.0, '0 to 60 degrees (mg/L with hardness = "mg/L")'),
    "mg/L": (0.0, 1070.0, '0 to 1070 mg/L (degrees with hardness = "degrees")'),
}


@dataclass(frozen=True, slots=True)
class Finding:
    """What was found at a path and what is allowed; `first` is the path where a thing found again stands first."""

    path: KeyPath
    found: str
    allowed: str
    first: KeyPath | None = None


def rules_sense(path: KeyPath, spec: RulesSpec, rules: FeedRules, elsewhere: str) -> Iterator[Finding]:
    """Rules of a feed that no plan could keep together, said of a key that is set at `path`.

    `rules` are the rules as they come out; `elsewhere` says where those come from that `spec` does not set.
    """
    yield from _gaps(path, spec, rules, elsewhere)
    yield from _week(path, spec, rules, elsewhere)
    yield from _parts_of_a_ration(path, spec, rules, elsewhere)


def _parts_of_a_ration(path: KeyPath, spec: RulesSpec, rules: FeedRules, elsewhere: str) -> Iterator[Finding]:
    if rules.share <= rules.most:
        return
    if spec.share is not None:
        other = _said(rules.most, spec.most is not None, elsewhere)
        yield Finding((*path, "share"), f"{rules.share:g}", f"at most `most` ({other})")
    elif spec.most is not None:
        allowed = f"at least share ({_said(rules.share, False, elsewhere)}); set share beside it"
        yield Finding((*path, "most"), f"{rules.most:g}", allowed)


def clock_sense(path: KeyPath, spec: ClockSpec, rules: ClockRules, elsewhere: str) -> Iterator[Finding]:
    """A clock that no plan could keep, said of a key that is set at `path`; `rules` are the clock as it comes out."""
    if rules.max_gap is not None and rules.min_gap > rules.max_gap:
        key, value, bound, other, own = "min_gap", rules.min_gap, "at most max_gap", rules.max_gap, spec.max_gap
        if spec.min_gap is None:
            key, value, bound, other, own = "max_gap", rules.max_gap, "at least min_gap", rules.min_gap, None
        yield Finding((*path, key), f"{value}", f"{bound} ({_said(other, own is not None, elsewhere)})")
    most = ceil(7 / max(1, rules.min_gap))
    if rules.per_week is not None and rules.per_week > most:
        if spec.per_week is not None:
            other_gap = _said(rules.min_gap, spec.min_gap is not None, elsewhere)
            allowed = f"at most {most} days a week with min_gap ({other_gap})"
            yield Finding((*path, "per_week"), f"{rules.per_week:g}", allowed)
        elif spec.min_gap is not None:
            allowed = f"a gap that leaves room for per_week ({_said(rules.per_week, False, elsewhere)})"
            yield Finding((*path, "min_gap"), f"{rules.min_gap}", allowed)


def extra_sense(path: KeyPath, spec: FeedSpec) -> Iterator[Finding]:
    """An extra takes nothing of any ration, and is solid."""
    if not spec.extra:
        return
    for key in ("share", "most"):
        if getattr(spec, key) is not None:
            yield Finding((*path, key), f"{getattr(spec, key):g}", "no share or most beside extra = true")
    if is_fine(spec.kind):
        yield Finding((*path, "extra"), "true", f'true with a solid kind only, not with "{spec.kind}"')


def _gaps(path: KeyPath, spec: RulesSpec, rules: FeedRules, elsewhere: str) -> Iterator[Finding]:
    if rules.max_gap is None or rules.min_gap <= rules.max_gap:
        return
    if spec.min_gap is not None:
        beside = "" if spec.max_gap is not None else "; set max_gap beside it"
        other = _said(rules.max_gap, spec.max_gap is not None, elsewhere)
        yield Finding((*path, "min_gap"), f"{rules.min_gap}", f"at most max_gap ({other}){beside}")
    elif spec.max_gap is not None:
        other = _said(rules.min_gap, False, elsewhere)
        allowed = f"at least min_gap ({other}); set min_gap beside it"
        yield Finding((*path, "max_gap"), f"{rules.max_gap}", allowed)


def _week(path: KeyPath, spec: RulesSpec, rules: FeedRules, elsewhere: str) -> Iterator[Finding]:
    """A week holds at most ⌈7 / min_gap⌉ servings that keep their distance."""
    most = ceil(7 / rules.min_gap)
    if rules.per_week is None or rules.per_week <= most:
        return
    if spec.per_week is not None:
        other = _said(rules.min_gap, spec.min_gap is not None, elsewhere)
        yield Finding((*path, "per_week"), f"{rules.per_week:g}", f"at most {most} a week with min_gap ({other})")
    elif spec.min_gap is not None:
        other = _said(rules.per_week, False, elsewhere)
        allowed = f"a gap that leaves room for per_week ({other}); set per_week to at most {most} beside it"
        yield Finding((*path, "min_gap"), f"{rules.min_gap}", allowed)


def _said(value: float, here: bool, elsewhere: str) -> str:
    return f"{value:g}" if here else f"{value:g}, {elsewhere}"


def protein_sense(path: KeyPath, spec: FeedSpec) -> Iterator[Finding]:
    """A fraction where percent is meant."""
    if spec.protein is not None and 0 < spec.protein < 1:
        allowed = f"percent of dry feed as on the pack, 0 or from 1 to 100; did you mean {spec.protein * 100:g}?"
        yield Finding((*path, "protein"), f"{spec.protein:g}", allowed)


def animals_sense(path: KeyPath, spec: AnimalsSpec) -> Iterator[Finding]:
    """Windows that end before they begin, more berried than there are, berried young, a hatch after the animals."""
    if spec.first is not None and spec.last is not None and spec.first > spec.last:
        yield Finding((*path, "to"), f"{spec.last}", f"a date not before from ({spec.first})")
    if spec.berried > spec.count:
        yield Finding((*path, "berried"), f"{spec.berried}", f"at most count ({spec.count})")
    if spec.berried and spec.stage in ("shrimplet", "juvenile"):
        found = f'{spec.berried} with stage "{spec.stage}"'
        yield Finding((*path, "berried"), found, 'a number with stage "adult" or "filter_feeder" only')
    if spec.hatched is not None and spec.first is not None and spec.hatched > spec.first:
        yield Finding((*path, "hatched"), f"{spec.hatched}", f"a date not after from ({spec.first})")


def water_sense(path: KeyPath, spec: WaterSpec, units: str, hardness: str) -> Iterator[Finding]:
    """Numbers that only make sense in the other unit."""
    yield from temperature_sense((*path, "temperature"), spec.temperature, units)
    yield from hardness_sense(path, (("gh", spec.gh), ("kh", spec.kh)), hardness)


def hardness_sense(path: KeyPath, values: Iterable[tuple[str, float | None]], hardness: str) -> Iterator[Finding]:
    """A hardness or alkalinity that only makes sense in the other unit."""
    low, high, allowed = _HARDNESSES.get(hardness, _HARDNESSES["mg/L"])
    for key, value in values:
        if value is not None and not low <= value <= high:
            yield Finding((*path, key), f"{value:g}", allowed)


def temperature_sense(path: KeyPath, value: float | None, units: str) -> Iterator[Finding]:
    """A temperature at which no water of this kind is kept, or one in the other unit."""
    low, high, allowed = _TEMPERATURES.get(units, (0.0, 113.0, "a temperature of water"))
    if value is not None and not low <= value <= high:
        yield Finding(path, f"{value:g}", allowed)


def vessel_sense(path: KeyPath, spec: VesselSpec) -> Iterator[Finding]:
    """Marks further apart than the vessel is large."""
    if spec.mark_ml > spec.ml:
        yield Finding((*path, "mark_ml"), f"{spec.mark_ml:g}", f"at most ml ({spec.ml:g})")
