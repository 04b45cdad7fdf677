"""What the fold of the animals comes to: groups that came together, broods to come, and what does not fit."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from typing import Literal, NamedTuple

from schedules.room import Presence
from schedules.room.heads import Heads
from schedules.room.kinds import Stage

ChangeKind = Literal["hatched", "added", "found", "moved", "dead", "sold", "culled", "missing", "replaced", "counted"]


class Group(NamedTuple):
    """Animals that came together and are at one stage, in the number that holds from `since` on.

    `origin` is the number of the entry they came with, 0 for those of the room file; `place` their place in the file's
    list, -1 for all others. `turns` is the day on which they pass to the next stage, None where they are not known to.
    `until` is the last day the file gives them; `length` (mm) and how many are `berried` are the file's too.
    """

    stage: Stage
    heads: int
    since: date | None
    origin: int = 0
    place: int = -1
    hatched: date | None = None
    turns: date | None = None
    until: date | None = None
    line: str | None = None
    length: float | None = None
    berried: int = 0
    goes_on: bool = False

    def on(self, day: date) -> bool:
        """Whether these animals are there on a day."""
        return (self.since is None or self.since <= day) and (self.until is None or day <= self.until)


@dataclass(frozen=True, slots=True)
class Brood:
    """Eggs that females carry: `heads` females of a tank, seen berried on a day, with eyes in the eggs on another.

    `origin` is the number of the entry that first said so.
    """

    tank: str
    heads: int
    berried: date | None
    eyed: date | None
    origin: int


@dataclass(frozen=True, slots=True)
class Change:
    """What happened to the animals of one origin in one tank on a day; `count` is what was seen, where it was counted.

    `heads` came or went; for `counted` they are those that the fold holds there afterwards.
    """

    day: date
    tank: str
    origin: int
    kind: ChangeKind
    heads: int
    count: Heads | None = None
    to: str | None = None
    line: str | None = None


@dataclass(frozen=True, slots=True)
class Disagreement:
    """Two statements that do not fit: what was known of a stage in a tank, and what was seen there.

    - `count`: another number was counted than was known.
    - `more_left`: more died, were sold, culled or moved than were known.
    - `hatch_foreseen`: the file has young from `other` on, and the hatch seen is taken to be theirs.
    - `hatch_twice`: the file has young since `other`, and the hatch seen is taken to be another one.
    """

    kind: Literal["count", "more_left", "hatch_foreseen", "hatch_twice"]
    day: date
    tank: str
    stage: Stage
    known: int
    seen: Heads
    other: date | None = None


@dataclass(frozen=True)
class Life:
    """Who lives where: the room file's animals and all that was seen of them since.

    `animals` holds, for each tank of which anything was seen, who is there from when to when, future stages included.
    `arrived` is the last day on which animals came into a tank. `changes` and `disagreements` are in the order of days.
    `seq` is the newest entry it knows of.
    """

    animals: Mapping[str, tuple[Presence, ...]]
    broods: tuple[Brood, ...]
    arrived: Mapping[str, date]
    changes: tuple[Change, ...]
    disagreements: tuple[Disagreement, ...]
    seq: int = 0
