"""The animals of one tank while the fold goes through the days: groups that age, give heads away and take them in."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date, timedelta
from typing import Final

from schedules.history.life.ages import BEFORE, NEXT, SLOW, ages_at, could_be
from schedules.history.life.shares import shared_out
from schedules.history.life.values import Group
from schedules.room import Presence, Tank
from schedules.room.kinds import Stage

ONE_DAY: Final = timedelta(days=1)
OLD_DAYS: Final = SLOW.adult
"""From this age on the adults of one tank and line are one group, of the mean age of its heads."""


class TankLife:
    """The groups of a tank. `since`: what held before that day need not be known any more."""

    def __init__(self, tank: Tank | None, since: date | None, groups: Iterable[Group] | None = None) -> None:
        """`tank` is None where the room file has no such tank any more; `groups` are those known already."""
        animals = () if tank is None else tank.animals
        self.groups: list[Group] = list(_of_file(animals) if groups is None else groups)
        self.celsius = None if tank is None else tank.water.temperature
        self._since = since
        self._places = len(animals)
        self._past: list[tuple[Group, Presence]] = []

    def reach_day(self, day: date) -> None:
        """Let the groups become as old as they are on a day; a group of which nobody is left is forgotten."""
        self.groups = [self._aged(group, day, self._past) for group in self.groups if group.heads]
        old: dict[tuple[object, ...], list[Group]] = {}
        for group in self.groups if len(self.groups) > 1 else ():
            if _is_old(group, day):
                old.setdefault((group.stage, group.line, group.length, group.hatched is None), []).append(group)
        for groups in old.values():
            if len(groups) > 1:
                self._unite(groups, day)

    def _unite(self, groups: list[Group], day: date) -> None:
        """Make one group of those whose ages do not matter any more."""
        for group in groups:
            self._keep(group, day - ONE_DAY, self._past)
            self.groups.remove(group)
        first, heads = groups[0], sum(group.heads for group in groups)
        days = sum(group.heads * group.hatched.toordinal() for group in groups if group.hatched is not None)
        self.groups.append(
            Group(
                stage=first.stage,
                heads=heads,
                since=day,
                hatched=date.fromordinal(days // heads) if days else None,
                line=first.line,
                length=first.length,
                goes_on=True,
            )
        )

    def presences(self) -> tuple[Presence, ...]:
        """Who is there from when to when, the file's animals first; what comes to pass by age alone is known ahead."""
        pieces = list(self._past)
        for group in self.groups:
            grown = self._aged(group, date.max, pieces)
            self._keep(grown, grown.until, pieces)
        pieces.sort(key=lambda piece: piece[0].place if piece[0].place >= 0 else self._places + piece[0].origin)
        return tuple(presence for _, presence in pieces)

    def _aged(self, group: Group, day: date, pieces: list[tuple[Group, Presence]]) -> Group:
        while group.turns is not None and group.turns <= day:
            self._keep(group, group.turns - ONE_DAY, pieces)
            turns = None
            if NEXT[group.stage] == "juvenile" and group.hatched is not None:
                adult = group.hatched + timedelta(days=ages_at(self.celsius).adult)
                turns = max(adult, group.turns + ONE_DAY)
            group = group._replace(stage=NEXT[group.stage], since=group.turns, turns=turns, goes_on=True)
        return group

    def _keep(self, group: Group, last: date | None, pieces: list[tuple[Group, Presence]]) -> None:
        """Keep what held of a group until a day."""
        within = last is None or group.since is None or group.since <= last
        if within and group.heads > 0 and (last is None or self._since is None or last >= self._since):
            pieces.append((group, presence_of(group, last)))

    def places(self, stage: Stage, day: date, line: str | None = None) -> list[int]:
        """The places of the groups of a stage on a day; only those of a line where any belongs to it."""
        of_stage = [
            place for place, group in enumerate(self.groups) if group.stage == stage and group.on(day) and group.heads
        ]
        of_line = [place for place in of_stage if line is not None and self.groups[place].line == line]
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

    def reach(self, stage: Stage, heads: int, day: date, line: str | None = None) -> int:
        """See to it that there are so many of a stage, as far as those of the stages beside it can be that old.

        Gives back how many there are then.
        """
        missing = heads - self.heads(stage, day, line)
        for beside, grown in ((BEFORE.get(stage), True), (NEXT.get(stage), False)):
            able = [
                (group.hatched, place)
                for place, group in enumerate(self.groups)
                if group.stage == beside and _can_be(group, stage, day)
            ]
            for _, place in sorted(able, reverse=not grown):  # the oldest grow up first, the youngest stay young
                passing = min(max(missing, 0), self.groups[place].heads)
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
        hatched = _hatch_day(group)
        if group.since is None or group.since < day:
            self._keep(group, day - ONE_DAY, self._past)
            group = group._replace(since=day, goes_on=True)
        self.groups[place] = group._replace(heads=heads, hatched=hatched)


def presence_of(group: Group, last: date | None) -> Presence:
    """A group as animals of a tank, from the day its heads hold to a last day."""
    berried = min(group.berried, group.heads)
    return Presence(
        group.stage, group.heads, berried, group.since, last, group.length, group.hatched, goes_on=group.goes_on
    )


def _hatch_day(group: Group) -> date | None:
    """As `Presence.hatch_day`, which a group does not forget when its number changes."""
    return group.hatched or (group.since if group.stage == "shrimplet" and not group.goes_on else None)


def _of_file(animals: Iterable[Presence]) -> Iterator[Group]:
    for place, here in enumerate(animals):
        yield Group(
            stage=here.stage,
            heads=here.count,
            since=here.first,
            place=place,
            hatched=here.hatched,
            until=here.last,
            length=here.length,
            berried=here.berried,
        )


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


def _is_old(group: Group, day: date) -> bool:
    """Whether a group has grown up so long ago, or came so old, that it need not be kept apart from others like it."""
    settled = group.place < 0 and group.turns is None and group.until is None and group.on(day)
    return settled and (group.hatched is None or (day - group.hatched).days >= OLD_DAYS)


def _can_be(group: Group, stage: Stage, day: date) -> bool:
    """Whether a group can be at a stage on a day, by its age."""
    known = group.origin > 0 and group.hatched is not None and group.on(day) and group.heads > 0
    return known and group.hatched is not None and could_be(stage, (day - group.hatched).days)
