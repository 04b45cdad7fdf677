"""What was seen of the animals of a tank: a berried female, a hatch, a count, deaths, moves, sales, new stock."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Annotated, Final, Literal

from schedules.ledger.declaration import Content, Earlier, EntryKind, Names, declare
from schedules.ledger.entry import What
from schedules.ledger.fields import Field, Malformed
from schedules.room.heads import CLASSES, MOST_HEADS, Heads
from schedules.room.kinds import Stage

Saw = Literal["berried", "eyed", "hatch", "count", "dead", "moved", "sold", "culled", "added"]
LEAVING: Final[frozenset[Saw]] = frozenset(("dead", "moved", "sold", "culled"))
"""After which animals are in the tank no more."""


@dataclass(frozen=True, slots=True)
class Sighting(What):
    """Animals of one stage seen in a tank, or what became of them.

    `berried` and `eyed` (eggs in which eyes can be seen) say how many such females are there now, 0 for none any more;
    `count` says how many animals of the stage are there at the end of that day. All others say how many came or went.
    """

    tank: Annotated[str, Field("the tank", empty=False)]
    saw: Annotated[Saw, Field("what was seen or done")]
    stage: Annotated[Stage, Field("of which stage")]
    heads: Annotated[int, Field("how many", most=MOST_HEADS)]
    exact: Annotated[bool, Field("whether they were counted; else `heads` is a size class: 1, 3, 10, 30, 100 or 300")]
    to: Annotated[str | None, Field("the tank they were moved to", empty=False)] = None
    source: Annotated[str | None, Field("where new stock came from, in the keeper's words", empty=False)] = None
    line: Annotated[str | None, Field("the line they belong to", empty=False)] = None
    grade: Annotated[str | None, Field("the keeper's name of their grade", empty=False)] = None
    berried: Annotated[int | None, Field("how many of those that left carried eggs, null where nobody said")] = None

    def __post_init__(self) -> None:
        if not self.exact and self.heads not in CLASSES:
            raise Malformed("heads", self.heads, f"one of the size classes {', '.join(map(str, CLASSES))}")
        if (self.saw == "moved") != (self.to is not None) or self.to == self.tank:
            raise Malformed("to", self.to, "another tank for what was moved, and null for all else")
        if self.berried is not None and (self.saw not in LEAVING or self.stage != "adult"):
            raise Malformed("berried", self.berried, "a number for adults that left, and null for all else")
        if self.berried is not None and self.berried > self.number.range[1]:
            raise Malformed("berried", self.berried, f"at most {self.number.range[1]}, as many as left")

    @property
    def number(self) -> Heads:
        """How many, with how exact that is."""
        return Heads(self.heads, self.exact)


_DONE: Final[dict[Saw, str]] = {
    "dead": "{} found dead in {}",
    "moved": "{} moved from {}",
    "sold": "{} of {} sold",
    "culled": "{} of {} culled",
    "added": "{} new in {}",
    "count": "{} counted in {}",
    "hatch": "{} hatched in {}",
    "berried": "{} seen in {}",
    "eyed": "{} with eyes in the eggs seen in {}",
}


def _words(what: Sighting, _day: date, names: Names) -> str:
    text = _DONE[what.saw].format(_animals(what), names.tank(what.tank))
    if what.berried is not None:
        text += f", {what.berried} of them berried,"
    if what.to is not None:
        text += f" to {names.tank(what.to)}"
    if what.source is not None:
        text += f" from {what.source}"
    if what.line is not None:
        text += f", line {what.line}"
    return text if what.grade is None else f"{text}, grade {what.grade}"


def _animals(what: Sighting) -> str:
    name = "berried female" if what.saw in ("berried", "eyed") else what.stage.replace("_", " ")
    return f"{what.number.text} {name}" + ("" if what.heads == 1 else "s")


def _not_said(content: Content) -> Content:
    """Before, nobody could say how many of those that left carried eggs."""
    return content | {"berried": None}


SIGHTING = declare(
    EntryKind(
        name="sighting",
        made=Sighting,
        meaning="what was seen of the animals of a tank, or became of them",
        words=_words,
        earlier=(Earlier(("tank", "saw", "stage", "heads", "exact", "to", "source", "line", "grade"), _not_said),),
    )
)
