"""What is wrong with waters, salts and insides although each of their keys is right."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Final

from schedules.room.water.ions import PARTS, part_named
from schedules.room_file.consistency import Finding, hardness_sense
from schedules.room_file.faults import KeyPath
from schedules.room_file.schema.makeup import InsideSpec, SaltSpec, SourceWaterSpec
from schedules.room_file.show import listed, meant, quoted

NO_COPPER: Final = "no salt of copper, which kills shrimp at micrograms per litre"


def waters_sense(waters: Iterable[tuple[KeyPath, SourceWaterSpec]], hardness: str) -> Iterator[Finding]:
    """Hardness in the other unit, and a second water to top off with."""
    first: KeyPath | None = None
    for path, spec in waters:
        yield from hardness_sense(path, (("gh", spec.gh), ("kh", spec.kh)), hardness)
        if spec.top_off:
            if first is not None:
                yield Finding((*path, "top_off"), "true", "true for one water only", first)
            first = first or (*path, "top_off")


def salt_sense(path: KeyPath, spec: SaltSpec, hardness: str) -> Iterator[Finding]:
    """A salt of which nothing is known, parts that nobody knows, and more than the whole."""
    if spec.measured is None and not spec.parts:
        yield Finding(path, "neither measured nor parts", "one of the two, or both")
    if spec.measured is not None:
        here, found = (*path, "measured"), spec.measured
        yield from hardness_sense(here, (("gh", found.gh), ("kh", found.kh)), hardness)
        if not any((found.gh, found.kh, found.tds, found.conductivity)):
            yield Finding(here, "nothing that rose", "gh, kh, tds or conductivity, above 0")
    for part in spec.parts:
        if part_named(part) is None:
            allowed = (
                NO_COPPER if part.startswith("Cu") else f"a salt or an ion: {listed(PARTS, 40)}{meant(part, PARTS)}"
            )
            yield Finding((*path, "parts", part), quoted(part), allowed)
    whole = sum(spec.parts.values())
    if whole > 100.001:
        yield Finding((*path, "parts"), f"{whole:g} percent in all", "at most 100")


def inside_sense(path: KeyPath, spec: InsideSpec) -> Iterator[Finding]:
    """Not enough to work out an area."""
    sides = spec.length is not None, spec.width is not None
    if all(sides) or (spec.height is not None and not any(sides)):
        return
    yield Finding(path, "too little to know the area", "length and width, or height alone")
