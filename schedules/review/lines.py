"""What each line did in a year: hatches and young, grades kept, culled and sold, deaths, and moves with where from.

In: sightings, the room, a year. Out: one `LineYear` a line. Size classes stay ranges: nothing is counted closer than it
was seen. Animals belong to the line the sighting names, else to that of their tank; a tank without a line in the room
file has the line that last came into it.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from datetime import date
from typing import Final, Literal, NamedTuple

from schedules.ledger.entries import Entry, Sighting
from schedules.room import Room
from schedules.room.heads import Heads
from schedules.room.kinds import Stage

Fate = Literal["kept", "culled", "sold"]


class Tally(NamedTuple):
    """A sum of heads: as written down, and the least and the most it can be."""

    number: int = 0
    least: int = 0
    most: int = 0

    def plus(self, heads: Heads) -> Tally:
        """With these heads too."""
        least, most = heads.range
        return Tally(self.number + heads.number, self.least + least, self.most + most)

    @property
    def exact(self) -> bool:
        """Whether all of it was counted."""
        return self.least == self.most


NONE: Final = Tally()


class Move(NamedTuple):
    """Animals of one stage moved from a tank to another: their line before, and the one they belong to since.

    `generation` is that of the tank they came from, where the room file gives one.
    """

    day: date
    tank: str
    to: str
    stage: Stage
    heads: Heads
    grade: str | None
    parent: str | None
    line: str | None
    generation: int | None


@dataclass(slots=True)
class Grade:
    """What became of the animals of one grade: kept (moved on under that grade), culled, sold."""

    kept: Tally = NONE
    culled: Tally = NONE
    sold: Tally = NONE

    def add(self, fate: Fate, heads: Heads) -> None:
        """Take in animals of this grade."""
        setattr(self, fate, getattr(self, fate).plus(heads))


@dataclass(slots=True)
class LineYear:
    """A year of one line; None is the name of what belongs to no line. `grades` has None for animals without a grade.

    `tanks` are those that the room file gives it, with their generation. `moves` are all in which it had a part, in the
    order of days.
    """

    line: str | None
    tanks: tuple[tuple[str, int | None], ...] = ()
    hatches: int = 0
    young: Tally = NONE
    added: Tally = NONE
    dead: Tally = NONE
    grades: dict[str | None, Grade] = field(default_factory=dict)
    moves: list[Move] = field(default_factory=list)

    @property
    def empty(self) -> bool:
        """Whether nothing was written down of it."""
        return not (self.hatches or self.grades or self.moves or self.added != NONE or self.dead != NONE)

    def grade(self, name: str | None) -> Grade:
        """The tally of a grade."""
        return self.grades.setdefault(name, Grade())


def lines_in(entries: Iterable[Entry], room: Room, year: int) -> tuple[LineYear, ...]:
    """Each line known by the end of a year, by name, and last what belongs to no line, where there is any.

    `entries` are the standing ones of all years, in any order; those before the year say which line a tank has.
    """
    fold = _Fold(room)
    for entry in sorted(entries, key=lambda entry: (entry.day, entry.seq)):
        if entry.day.year <= year and isinstance(entry.what, Sighting):
            fold.take_in(entry.day, entry.what, counts=entry.day.year == year)
    return tuple(fold.years[name] for name in sorted(fold.years, key=lambda name: (name is None, name or "")))


def lines_of_hatches(entries: Iterable[Entry], room: Room) -> Mapping[int, str | None]:
    """The line of the young of each hatch, by the number of its entry. `entries` as for `lines_in`."""
    fold = _Fold(room)
    found: dict[int, str | None] = {}
    for entry in sorted(entries, key=lambda entry: (entry.day, entry.seq)):
        if isinstance(entry.what, Sighting):
            line = fold.take_in(entry.day, entry.what, counts=False)
            if entry.what.saw == "hatch":
                found[entry.seq] = line
    return found


def lines_of_tanks(entries: Iterable[Entry], room: Room) -> Mapping[str, str]:
    """The line of each tank that has one: the room file's, else the one that last came into it."""
    fold = _Fold(room)
    for entry in sorted(entries, key=lambda entry: (entry.day, entry.seq)):
        if isinstance(entry.what, Sighting):
            fold.take_in(entry.day, entry.what, counts=False)
    return {tank: line for tank in room.tanks if (line := fold.line_of(tank)) is not None}


class _Fold:
    """The lines while sightings are taken in, earliest first."""

    def __init__(self, room: Room) -> None:
        self._room = room
        self._followed: dict[str, str] = {}
        self.years: dict[str | None, LineYear] = {}
        for tank in room.tanks.values():
            if tank.line is not None:
                known = self._year(tank.line)
                known.tanks = (*known.tanks, (tank.id, tank.generation))

    def take_in(self, day: date, what: Sighting, *, counts: bool) -> str | None:
        """Take in a sighting and say of which line it is; one of an earlier year only says which line is where."""
        parent = self.line_of(what.tank)
        line = what.line or parent
        if line is not None:
            self._year(line)
        if counts:
            self._count(day, what, parent, line)
        target = what.to if what.to is not None else what.tank if what.saw in ("hatch", "added") else None
        if target is not None and line is not None:
            self._followed[target] = line
        return line

    def line_of(self, tank: str) -> str | None:
        """The line of a tank as things stand."""
        known = self._room.tanks.get(tank)
        return self._followed.get(tank) if known is None or known.line is None else known.line

    def _year(self, line: str | None) -> LineYear:
        return self.years.setdefault(line, LineYear(line))

    def _count(self, day: date, what: Sighting, parent: str | None, line: str | None) -> None:
        match what.saw:
            case "hatch":
                year = self._year(line)
                year.hatches += 1
                year.young = year.young.plus(what.number)
            case "added":
                year = self._year(line)
                year.added = year.added.plus(what.number)
            case "dead":
                year = self._year(line)
                year.dead = year.dead.plus(what.number)
            case "culled" | "sold":
                self._year(line).grade(what.grade).add(what.saw, what.number)
            case "moved":
                self._move(day, what, parent, line)

    def _move(self, day: date, what: Sighting, parent: str | None, line: str | None) -> None:
        """Animals moved; those with a grade were selected, and are tallied where they were bred."""
        assert what.to is not None
        known = self._room.tanks.get(what.tank)
        generation = None if known is None else known.generation
        move = Move(day, what.tank, what.to, what.stage, what.number, what.grade, parent, line, generation)
        for each in dict.fromkeys((parent, line)):
            self._year(each).moves.append(move)
        if what.grade is not None:
            self._year(parent).grade(what.grade).add("kept", what.number)
