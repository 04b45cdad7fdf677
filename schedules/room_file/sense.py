"""What is wrong within one table although each of its keys is right: keys that contradict, numbers in another unit."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import ceil
from typing import Final

from schedules.room import FeedRules
from schedules.room_file.faults import KeyPath
from schedules.room_file.schema import AnimalsSpec, FeedSpec, RulesSpec, VesselSpec, WaterSpec

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
    if rules.alone is not None and rules.alone < rules.share:
        key, bound, other = ("alone", "at least share", rules.share)
        found, own = rules.alone, spec.share is not None
        if spec.alone is None:
            key, bound, other = ("share", "at most alone", rules.alone)
            found, own = rules.share, False
        if spec.alone is not None or spec.share is not None:
            yield Finding((*path, key), f"{found:g}", f"{bound} ({_said(other, own, elsewhere)})")


def _gaps(path: KeyPath, spec: RulesSpec, rules: FeedRules, elsewhere: str) -> Iterator[Finding]:
    if rules.min_gap <= rules.max_gap:
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
    if rules.per_week <= most:
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
    """Windows that end before they begin, more berried than there are, berried young."""
    if spec.first is not None and spec.last is not None and spec.first > spec.last:
        yield Finding((*path, "to"), f"{spec.last}", f"a date not before from ({spec.first})")
    if spec.berried > spec.count:
        yield Finding((*path, "berried"), f"{spec.berried}", f"at most count ({spec.count})")
    if spec.berried and spec.stage in ("shrimplet", "juvenile"):
        found = f'{spec.berried} with stage "{spec.stage}"'
        yield Finding((*path, "berried"), found, 'a number with stage "adult" or "filter_feeder" only')


def water_sense(path: KeyPath, spec: WaterSpec, units: str, hardness: str) -> Iterator[Finding]:
    """Numbers that only make sense in the other unit."""
    yield from temperature_sense((*path, "temperature"), spec.temperature, units)
    low, high, allowed = _HARDNESSES.get(hardness, _HARDNESSES["mg/L"])
    for key, value in (("gh", spec.gh), ("kh", spec.kh)):
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
