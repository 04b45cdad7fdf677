"""The animals of one tank while the fold goes through the days: groups that age, give heads away and take them in."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, timedelta
from operator import itemgetter
from typing import Final

from schedules.history.life.ages import BEFORE, NEXT, SLOW, ages_at, could_be
from schedules.history.life.of_file import groups_of_file
from schedules.history.life.shares import shared_out
from schedules.history.life.uniting import next_union, united
from schedules.history.life.values import Group
from schedules.room import Presence, Tank
from schedules.room.kinds import Stage

ONE_DAY: Final = timedelta(days=1)
Piece = tuple[int, Presence]
"""Animals from a day to a day, and a number that says which come first where they are listed."""
_ORDER: Final = itemgetter(0)


class TankLife:
    """The groups of a tank. `since`: what held before that day need not be known any more."""

    def __init__(self, tank: Tank | None, since: date | None, groups: Iterable[Group] | None = None) -> None:
        """`tank` is None where the room file has no such tank any more; `groups` are those known already."""
        of_file = () if tank is None or groups is not None else groups_of_file(tank)
        self.groups: list[Group] = list(of_file if groups is None else groups)
        self.celsius = None if tank is None else tank.water.temperature
        self._since = since
        self._places = 0 if tank is None else len(tank.animals)
        self._past: list[Piece] = []
        self._quiet_until = date.min  # before that day nothing becomes of the groups by itself

    def reach_day(self, day: date) -> None:
        """Let the groups become as old as they are on a day; those of which nobody is left are forgotten."""
        if day < self._quiet_until:
            return
        self.groups = [
            self._aged(group, day, self._past) for group in self.groups if group.heads and not self._over(group, day)
        ]
        union = next_union(self.groups)
        while union is not None and union.day <= day:
            one, other = self.groups[union.one], self.groups[union.other]
            for group in (one, other):
                self._keep(group, union.day - ONE_DAY, self._past)
            self.groups[union.one] = united(one, other, union.day)
            del self.groups[union.other]
            union = next_union(self.groups)
        turns = (group.turns or (group.until and group.until + ONE_DAY) for group in self.groups)
        self._quiet_until = min((each for each in (union and union.day, *turns) if each), default=date.max)

    def _over(self, group: Group, day: date) -> bool:
        """Whether the file's last day of a group has passed; then only what held of it is kept."""
        if group.until is None or day <= group.until:
            return False
        self._keep(group, group.until, self._past)
        return True

    def presences(self) -> tuple[Presence, ...]:
        """Who is there from when to when, the file's animals first; what comes to pass by age alone is known ahead."""
        pieces = list(self._past)
        for group in self.groups:
            grown = group if group.turns is None else self._aged(group, date.max, pieces)
            self._keep(grown, grown.until, pieces)
        pieces.sort(key=_ORDER)
        return tuple(presence for _, presence in pieces)

    def _aged(self, group: Group, day: date, pieces: list[Piece]) -> Group:
        while group.turns is not None and group.turns <= day:
            self._keep(group, group.turns - ONE_DAY, pieces)
            turns = None
            if NEXT[group.stage] == "juvenile" and group.hatched is not None:
                adult = group.hatched + timedelta(days=ages_at(self.celsius).adult)
                turns = max(adult, group.turns + ONE_DAY)
            group = group._replace(stage=NEXT[group.stage], since=group.turns, turns=turns, length=None, goes_on=True)
        return group

    def _keep(self, group: Group, last: date | None, pieces: list[Piece]) -> None:
        """Keep what held of a group until a day."""
        if last is not None:
            over = self._since is not None and last < self._since
            if over or (group.since is not None and group.since > last):
                return
        if group.heads:
            order = group.place if group.place >= 0 else self._places + group.origin
            pieces.append((order, presence_of(group, last)))

    def places(self, stage: Stage, day: date, line: str | None = None) -> list[int]:
        """The places of the groups of a stage on a day; only those of a line where any belongs to it."""
        of_stage = [
            place for place, group in enumerate(self.groups) if group.stage == stage and group.heads and group.on(day)
        ]
        if line is None:
            return of_stage
        of_line = [place for place in of_stage if self.groups[place].line == line]
        return of_line or of_stage

    def heads(self, stage: Stage, day: date, line: str | None = None) -> int:
        """How many of a stage there are on a day."""
        return sum(self.groups[place].heads for place in self.places(stage, day, line))

    def take(self, stage: Stage, heads: int, day: date, line: str | None = None) -> list[Group]:
        """Take heads of a stage out, in proportion from the groups; as many as there are."""
        places = self.places(stage, day, line)
        among = [self.groups[place].heads for place in places]
        taken = []
        for place, part in zip(places, shared_out(min(heads, sum(among)), among), strict=True):
            if part:
                taken.append(_part(self.groups[place], part, day))
                self._set(place, self.groups[place].heads - part, day)
        return taken

    def grow(self, stage: Stage, heads: int, day: date) -> list[Group]:
        """Add heads that nobody knew of to the groups of a stage, in proportion; what each one got."""
        places = self.places(stage, day)
        shares = shared_out(heads, [self.groups[place].heads for place in places])
        for place, more in zip(places, shares, strict=True):
            self._set(place, self.groups[place].heads + more, day)
        found = [self.groups[place]._replace(heads=more) for place, more in zip(places, shares, strict=True)]
        return [group for group in found if group.heads]

    def add(self, group: Group, day: date) -> None:
        """Put a group in, with those that came with the same entry and are as old."""
        for place, other in enumerate(self.groups):
            if other.on(day) and _alike(other, group):
                self._set(place, other.heads + group.heads, day)
                return
        self.groups.append(group)
        self._look_again(group.turns or day + ONE_DAY)

    def _look_again(self, day: date) -> None:
        """See what becomes of the groups by themselves from a day on."""
        self._quiet_until = min(self._quiet_until, day)

    def reach(self, stage: Stage, heads: int, day: date, line: str | None = None) -> int:
        """See to it that there are so many of a stage, as far as those of the stages beside it can be that old.

        Gives back how many there are then.
        """
        there = self.heads(stage, day, line)
        missing = heads - there
        if missing <= 0:
            return there
        for beside, grown in ((BEFORE.get(stage), True), (NEXT.get(stage), False)):
            able = [
                (group.hatched, place)
                for place, group in enumerate(self.groups)
                if group.stage == beside and _can_be(group, stage, day)
            ]
            for _, place in sorted(able, reverse=not grown):  # the oldest grow up first, the youngest stay young
                passing = min(missing, self.groups[place].heads)
                if passing:
                    part = _part(self.groups[place], passing, day)
                    self._set(place, self.groups[place].heads - passing, day)
                    self.add(self._passed(part, stage, day, grown=grown), day)
                    missing -= passing
        return self.heads(stage, day, line)

    def _passed(self, group: Group, stage: Stage, day: date, *, grown: bool) -> Group:
        """A group at the stage at which it was seen: earlier than by its age, or later."""
        ages = ages_at(self.celsius)
        turns: date | None = None
        if stage == "juvenile" and grown:
            turns = day + timedelta(days=ages.adult - ages.juvenile)
        elif stage in NEXT and group.hatched is not None:
            age = SLOW.juvenile if stage == "shrimplet" else SLOW.adult
            turns = max(group.hatched + timedelta(days=age), day + ONE_DAY)
        return group._replace(stage=stage, turns=turns)

    def _set(self, place: int, heads: int, day: date) -> None:
        """Give a group another number of heads from a day on."""
        group = self.groups[place]
        hatched = group.hatched or _hatch_day(group)
        if not heads or not group.heads:
            self._look_again(day + ONE_DAY)
        if group.since is not None and group.since >= day:
            self.groups[place] = group._replace(heads=heads, hatched=hatched)
            return
        self._keep(group, day - ONE_DAY, self._past)
        self.groups[place] = group._replace(heads=heads, hatched=hatched, since=day, goes_on=True)


def presence_of(group: Group, last: date | None) -> Presence:
    """A group as animals of a tank, from the day its heads hold to a last day."""
    stage, heads, since, _, _, hatched, _, _, _, length, berried, goes_on = group
    return Presence(stage, heads, berried and min(berried, heads), since, last, length, hatched, False, goes_on)


def _hatch_day(group: Group) -> date | None:
    """As `Presence.hatch_day`, which a group does not forget when its number changes."""
    return group.hatched or (group.since if group.stage == "shrimplet" and not group.goes_on else None)


def _part(group: Group, heads: int, day: date) -> Group:
    """Heads that leave a group on a day. Nobody knows which of them were berried."""
    hatched = _hatch_day(group)
    return group._replace(heads=heads, since=day, place=-1, hatched=hatched, until=None, berried=0, goes_on=True)


def _alike(one: Group, other: Group) -> bool:
    """Whether two groups are animals of one origin, age and line."""
    if one.place >= 0 or one.origin != other.origin or one.stage != other.stage:
        return False
    ages = (one.hatched, one.turns, one.until) == (other.hatched, other.turns, other.until)
    return ages and (one.line, one.length) == (other.line, other.length)


def _can_be(group: Group, stage: Stage, day: date) -> bool:
    """Whether a group can be at a stage on a day, by its age."""
    there = group.hatched is not None and group.on(day) and group.heads > 0
    return there and group.hatched is not None and could_be(stage, (day - group.hatched).days)
