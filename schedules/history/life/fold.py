"""The fold of all that was seen of the animals over the room file's: who lives where from when to when.

Entries are taken in by day and, within a day, in the order in which they were written; what a clock said at that
moment does not matter. An entry holds from its day on, and the day's number is that of its end.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import replace
from datetime import date, timedelta
from typing import Final

from schedules.history.life.ages import ages_at
from schedules.history.life.broods import joined, leaving, with_berried, with_eyed, without_one
from schedules.history.life.census import State
from schedules.history.life.hatching import given_up
from schedules.history.life.of_file import grow_up
from schedules.history.life.tank import TankLife
from schedules.history.life.values import Brood, Change, ChangeKind, Disagreement, Group, Life
from schedules.ledger.entries import Entry, Saw, Sighting
from schedules.room import Room

SAME_HATCH_DAYS: Final = 14
"""A hatch that was seen so near to one that the file foresees is taken to be that one."""


class LifeFold:
    """The animals of a room while entries are taken in. `since`: earlier days need not be known any more."""

    def __init__(self, room: Room, since: date | None = None, state: State | None = None) -> None:
        """`state` is what is known already; without it the fold begins with the room file's animals."""
        self._room = room
        self._since = since
        known = state or State({}, {}, {})
        self._tanks = {tank: TankLife(room.tanks.get(tank), since, groups) for tank, groups in known.groups.items()}
        for tank in room.tanks.values():
            if tank.id not in self._tanks and grow_up(tank):
                self._tanks[tank.id] = TankLife(tank, since)
        self._broods = dict(known.broods)
        self._arrived = dict(known.arrived)
        self._changes: list[Change] = []
        self._disagreements: list[Disagreement] = []

    def take_in(self, entries: Iterable[Entry]) -> None:
        """Take in standing entries that lie after all taken in before."""
        for entry in sorted(entries, key=lambda entry: (entry.day, entry.seq)):
            if isinstance(entry.what, Sighting):
                _TAKEN_IN[entry.what.saw](self, self._tank(entry.what.tank, entry.day), entry, entry.what)

    def life(self, seq: int = 0) -> Life:
        """All of it as values. `seq` is the newest entry of the ledger it was read from."""
        return Life(
            {tank: known.presences() for tank, known in self._tanks.items()},
            tuple(brood for broods in self._broods.values() for brood in broods),
            dict(self._arrived),
            tuple(self._changes),
            tuple(self._disagreements),
            seq,
        )

    def reach_day(self, day: date) -> None:
        """Let all that was taken in become as old as it is on a day."""
        for known in self._tanks.values():
            known.reach_day(day)

    def state(self) -> State:
        """What is known now, to go on from later."""
        groups = {tank: tuple(known.groups) for tank, known in self._tanks.items()}
        return State(groups, dict(self._broods), dict(self._arrived))

    def _tank(self, tank: str, day: date) -> TankLife:
        """A tank with its animals as old as they are on a day."""
        if tank not in self._tanks:
            self._tanks[tank] = TankLife(self._room.tanks.get(tank), self._since)
        known = self._tanks[tank]
        known.reach_day(day)
        return known

    def _log(self, day: date, tank: str, groups: Iterable[Group], kind: ChangeKind, to: str | None = None) -> None:
        self._changes += [Change(day, tank, group.origin, kind, group.heads, to=to) for group in groups]

    def _hatch(self, tank: TankLife, entry: Entry, what: Sighting) -> None:
        self._foreseen(tank, entry.day, what)
        self._broods[what.tank] = without_one(self._open_broods(what.tank, entry.day))
        turns = entry.day + timedelta(days=ages_at(tank.celsius).juvenile)
        tank.add(
            Group("shrimplet", what.heads, entry.day, entry.seq, hatched=entry.day, turns=turns, line=what.line),
            entry.day,
        )
        self._changes.append(
            Change(entry.day, what.tank, entry.seq, "hatched", what.heads, what.number, line=what.line)
        )

    def _foreseen(self, tank: TankLife, day: date, what: Sighting) -> None:
        """Young that the file has from a day near this one on: those to come are these, those there are others."""
        for group in list(tank.groups):
            if group.place < 0 or group.stage != "shrimplet" or group.goes_on or group.since is None:
                continue
            if abs((group.since - day).days) > SAME_HATCH_DAYS:
                continue
            ahead = group.since > day
            self._disagreements.append(
                Disagreement(
                    "hatch_foreseen" if ahead else "hatch_twice",
                    *(day, what.tank, "shrimplet", group.heads, what.number, group.since),
                )
            )
            if ahead:
                tank.groups.remove(group)
                self._log(day, what.tank, [group], "replaced")

    def _added(self, tank: TankLife, entry: Entry, what: Sighting) -> None:
        ages = ages_at(tank.celsius)
        days = {"shrimplet": ages.juvenile, "juvenile": ages.adult - ages.juvenile}.get(what.stage)
        group = Group(
            what.stage,
            what.heads,
            entry.day,
            entry.seq,
            hatched=entry.day if what.stage == "shrimplet" else None,
            turns=None if days is None else entry.day + timedelta(days=days),
            line=what.line,
        )
        tank.add(group, entry.day)
        self._arrived[what.tank] = entry.day
        self._log(entry.day, what.tank, [group], "added")

    def _gone(self, tank: TankLife, entry: Entry, what: Sighting) -> None:
        """Animals that died, were sold, culled or moved; moved ones arrive in full, known or not."""
        day = entry.day
        there = tank.reach(what.stage, what.heads, day, what.line)
        least, _ = what.number.range
        heads = there if least <= there < what.heads else what.heads
        taken = tank.take(what.stage, heads, day, what.line)
        self._log(day, what.tank, taken, _CHANGE[what.saw], what.to)
        unknown = heads - sum(group.heads for group in taken)
        if unknown:
            self._disagreements.append(Disagreement("more_left", day, what.tank, what.stage, there, what.number))
        if what.to is not None:
            self._arrive(what.to, taken, unknown, entry, what)
        if what.stage == "adult":
            self._broods_leave(entry, what, heads, there)

    def _arrive(self, to: str, taken: list[Group], unknown: int, entry: Entry, what: Sighting) -> None:
        day = entry.day
        if unknown:
            stranger = Group(what.stage, unknown, day, entry.seq, goes_on=True)
            self._log(day, to, [stranger], "found")
            taken = [*taken, stranger]
        target = self._tank(to, day)
        for group in taken:
            target.add(group if what.line is None else group._replace(line=what.line), day)
        self._arrived[to] = day

    def _broods_leave(self, entry: Entry, what: Sighting, heads: int, there: int) -> None:
        """Eggs leave with the females that carry them; those said to be berried of whom it was not known are new."""
        if not self._broods.get(what.tank) and not what.berried:
            return
        broods = self._open_broods(what.tank, entry.day)
        self._broods[what.tank], gone = leaving(broods, heads, there, what.berried)
        if what.to is None:
            return
        new = (what.berried or 0) - sum(brood.heads for brood in gone)
        unknown = [Brood(what.to, new, entry.day, None, entry.seq)] if new > 0 else []
        came = [*(replace(brood, tank=what.to) for brood in gone), *unknown]
        self._broods[what.to] = joined(self._open_broods(what.to, entry.day), came)

    def _count(self, tank: TankLife, entry: Entry, what: Sighting) -> None:
        day, number = entry.day, what.number
        there = tank.heads(what.stage, day)
        least, most = number.range
        if not least <= there <= most:
            reached = tank.reach(what.stage, number.number, day)
            if not least <= reached <= most:
                self._disagreements.append(Disagreement("count", day, what.tank, what.stage, there, number))
            if reached > number.number:
                taken = tank.take(what.stage, reached - number.number, day)
                self._log(day, what.tank, taken, "missing")
            elif reached < number.number:
                self._found(tank, entry, what, number.number - reached)
        for group in tank.groups:  # also those of which nobody was left
            if group.stage == what.stage and group.on(day):
                self._changes.append(Change(day, what.tank, group.origin, "counted", group.heads, number))

    def _found(self, tank: TankLife, entry: Entry, what: Sighting, heads: int) -> None:
        """More than were known: in proportion to the groups there, or a group by itself where there is none."""
        found = tank.grow(what.stage, heads, entry.day)
        if not found:
            found = [Group(what.stage, heads, entry.day, entry.seq, goes_on=True)]
            tank.add(found[0], entry.day)
        self._log(entry.day, what.tank, found, "found")

    def _open_broods(self, tank: str, day: date) -> tuple[Brood, ...]:
        celsius = self._tanks[tank].celsius
        return tuple(brood for brood in self._broods.get(tank, ()) if day < given_up(brood, celsius))

    def _berried(self, _tank: TankLife, entry: Entry, what: Sighting) -> None:
        self._broods[what.tank] = with_berried(self._open_broods(what.tank, entry.day), entry, what)

    def _eyed(self, _tank: TankLife, entry: Entry, what: Sighting) -> None:
        self._broods[what.tank] = with_eyed(self._open_broods(what.tank, entry.day), entry, what)


_TAKEN_IN: Final[dict[Saw, Callable[[LifeFold, TankLife, Entry, Sighting], None]]] = {
    "hatch": LifeFold._hatch,
    "added": LifeFold._added,
    "dead": LifeFold._gone,
    "sold": LifeFold._gone,
    "culled": LifeFold._gone,
    "moved": LifeFold._gone,
    "count": LifeFold._count,
    "berried": LifeFold._berried,
    "eyed": LifeFold._eyed,
}
_CHANGE: Final[dict[Saw, ChangeKind]] = {"dead": "dead", "sold": "sold", "culled": "culled", "moved": "moved"}
