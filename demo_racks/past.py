"""An invented past for an invented room: sixty days of rounds by keepers who are good at it, but not perfect.

The same room, day and seed give the same past. How often something goes wrong is invented.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date, datetime, timedelta
from itertools import groupby
from random import Random
from typing import Final, NamedTuple

from demo_racks.chores import ChoresPast
from demo_racks.seen import NEGLECTED, SEEN
from demo_racks.shelf import shelf_past
from demo_racks.water import water_past
from schedules.history import History
from schedules.history.life import room_as_of
from schedules.history.life.fold import LifeFold
from schedules.ledger import Entry, Noted, Observed, PostedServing, Posting, Reason, Served, Skipped, What
from schedules.ledger.admission import admitted
from schedules.ledger.lines import draft_of
from schedules.ledger.stores.filling import filling_at
from schedules.planning.posting import posted_servings
from schedules.planning.problem.build import build_problem
from schedules.planning.search import quick
from schedules.room import Room
from schedules.room.place import Place
from schedules.round import as_served

PAST_DAYS: Final = 60
REPLANNED_EVERY: Final = 7
POSTED_DAYS: Final = 9
"""A posting of the past reaches a little beyond the next one: longer ones would never be looked at."""
PLANNED_DAYS: Final = 14
"""What is planned for it: two whole weeks, so that the week's targets count."""
MISSED_MORNING: Final = 5
"""So many days ago nobody came in the morning."""
REASONS: Final = ("leftovers lying", "water cloudy", "many just moulted")
NOTES: Final = (
    "two empty shells by the moss",
    "film on the front pane scraped, the others left",
    "three berried, eggs with eyes",
    "counted at the feeding spot, more than last week",
    "topped up, same dissolved solids as before",
    "snails everywhere, fewer pellets",
)


class Act(NamedTuple):
    """What a keeper did at once: the entries it makes, the day they are about, when and by whom."""

    what: tuple[What, ...]
    day: date
    at: datetime
    by: str | None


def write_past(room: Room, place: Place, today: date, seed: int = 7, *, lived: bool = False) -> None:
    """Write the ledger of the days before `today` to a new place; if `lived`, also what was seen, and the shelf."""
    with filling_at(place) as inserter:
        for act in past_of(room, today, seed, lived=lived):
            what, at = admitted(*act)
            inserter.insert([draft_of(each) for each in what], act.day, at, act.by)


def past_of(room: Room, today: date, seed: int = 7, *, lived: bool = False) -> tuple[Act, ...]:
    """Everything that was done in the days before `today`, in its order."""
    past = _Past(room, today, Random(seed), (*SEEN, *shelf_past(today), *water_past()) if lived else ())
    past.live()
    return tuple(past.acts)


class _Past:
    def __init__(self, room: Room, today: date, chance: Random, seen: Sequence[tuple[int, What]]) -> None:
        self.room = room
        self.seen = seen
        self.today = today
        self.chance = chance
        self.acts: list[Act] = []
        self.postings: list[Posting] = []
        self.chores = ChoresPast(room, today, seed=11)

    def live(self) -> None:
        """Every day from the first to yesterday: a plan now and then, the rounds, what was found and noted."""
        for number in range(PAST_DAYS):
            day = self.today - timedelta(days=PAST_DAYS - number)
            if number % REPLANNED_EVERY == 0:
                self._post(day)
            for walk in self.room.rounds:
                due = [serving for serving in self.postings[-1].due(day) if serving.round == walk.id]
                if (number, walk) != (PAST_DAYS - MISSED_MORNING, self.room.rounds[0]):
                    self._walk(day, self._at(day, walk.at.hour, walk.at.minute), self._given(PAST_DAYS - number, due))
            self._do_chores(day)
            for days_ago, what in self.seen:
                if days_ago == PAST_DAYS - number:
                    self.acts.append(Act((what,), day, self._at(day, 19, 10), self.room.keepers[0].name))

    def _do_chores(self, day: date) -> None:
        """The day's chores, each in half a minute after the first round."""
        at = self._at(day, self.room.rounds[0].at.hour, self.room.rounds[0].at.minute) + timedelta(hours=2)
        by = self.room.keepers[-1].name if self.room.keepers else "keeper"
        for mark in self.chores.on(day):
            at += timedelta(seconds=30)
            self.acts.append(Act((mark,), day, at, by))

    def _given(self, days_ago: int, due: list[PostedServing]) -> list[PostedServing]:
        """What is given of what is due: in the neglected tank hardly anything."""
        tank, days = NEGLECTED
        if not self.seen or days_ago not in days or days_ago % 4 == 0:
            return due
        return [serving for serving in due if serving.tank != tank]

    def _lived_in(self, history: History, day: date) -> Room:
        """The room with its animals as they were seen until a day."""
        if not self.seen:
            return self.room
        fold = LifeFold(self.room)
        fold.take_in(history.entries)
        return room_as_of(self.room, fold.life(), day)

    def _post(self, day: date) -> None:
        history = self._history(day)
        room = self._lived_in(history, day)
        problem = build_problem(room, history, day, PLANNED_DAYS)
        made = quick(problem)
        posting = Posting(day, posted_servings(room, history, problem, made)[:POSTED_DAYS])
        self.postings.append(posting)
        self.acts.append(Act((posting,), day, self._at(day, 6, 55), None))

    def _history(self, today: date) -> History:
        """What holds on a morning: nothing of an invented past is ever undone."""
        entries: list[Entry] = []
        first_ever: dict[tuple[str, str], date] = {}
        for act in self.acts:
            number = len(entries) + 1
            entries += [Entry(number + n, number, act.day, act.at, act.by, each) for n, each in enumerate(act.what)]
            for each in act.what:
                if isinstance(each, Served):
                    first_ever.setdefault((each.tank, each.feed), act.day)
        listed = tuple(entry for entry in entries if not isinstance(entry.what, Posting))
        first = self.today - timedelta(days=PAST_DAYS)
        return History(first, today, listed, tuple(self.postings), {}, first_ever, len(entries))

    def _at(self, day: date, hour: int, minute: int) -> datetime:
        return datetime(day.year, day.month, day.day, hour, minute, tzinfo=self.room.zone)

    def _walk(self, day: date, at: datetime, due: Sequence[PostedServing]) -> None:
        by = self.chance.choice(self.room.keepers).name if self.room.keepers else "keeper"
        for tank, servings in groupby(due, key=lambda serving: serving.tank):
            at += timedelta(seconds=self.chance.randint(35, 95))
            for act in self._stop(tank, list(servings)):
                self.acts.append(Act(tuple(act), day, at, by))

    def _stop(self, tank: str, servings: Sequence[PostedServing]) -> Iterator[Sequence[What]]:
        """The acts at one stop: mostly all of it given; now and then passed by, skipped, doubled, or found lying."""
        luck = self.chance.random()
        if luck < 0.03:
            return
        if luck < 0.06:
            serving = self.chance.choice(servings)
            yield [Skipped(tank, serving.feed, serving.round, Reason.other(self.chance.choice(REASONS)))]
            servings = [each for each in servings if each is not serving]
        if servings:
            yield [as_served(serving) for serving in servings]
        if 0.06 <= luck < 0.075:
            yield [_doubled(servings[0])]
        if 0.075 <= luck < 0.12:
            yield [Observed(tank, servings[-1].feed, self.chance.choice(("none", "some", "some", "most")))]
        if 0.12 <= luck < 0.135:
            yield [Noted(tank, self.chance.choice(NOTES))]


def _doubled(serving: PostedServing) -> Served:
    """The same serving given a second time, as extra."""
    given = as_served(serving)
    return Served(
        given.tank,
        given.feed,
        given.round,
        given.amount,
        given.unit,
        given.amount_mg,
        given.part,
        planned=False,
        broke="again",
    )
