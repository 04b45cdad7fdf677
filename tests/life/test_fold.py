"""What holds whatever was seen, and what follows from each thing seen."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from schedules.history.life import Life, life_of, room_as_of
from schedules.history.life.reading import KNOWN_DAYS
from schedules.history.life.uniting import OLD_DAYS
from schedules.ledger import Entry, Sighting, Undone
from schedules.ledger.stores.memory import MemoryLedger
from schedules.room import Presence, Room
from schedules.room.heads import Heads
from tests.life.rooms import DAY, TANKS, Who, entries, folded, heads, pasts, presences, room_of, rooms, sighting, who

CAME = ("hatched", "added", "found")
WENT = ("dead", "sold", "culled", "missing", "replaced")


def after(days: int) -> date:
    return DAY + timedelta(days=days)


def everyone(life: Life, room: Room, day: date) -> int:
    tanks = {*room.tanks, *life.animals}
    return sum(heads(life, room, day, tank) for tank in tanks)


@given(rooms, pasts)
def test_no_count_is_ever_negative(room: Room, past: tuple[Entry, ...]) -> None:
    life = folded(room, past)
    assert all(here.count > 0 for animals in life.animals.values() for here in animals)


@given(rooms, pasts)
def test_no_head_is_lost_between_tanks(room: Room, past: tuple[Entry, ...]) -> None:
    """Who is there is who the file has, and who came, less who went; whoever is moved is still somewhere."""
    life = folded(room, past)
    flows = Counter[str]()
    for change in life.changes:
        flows[change.kind] += change.heads
    of_file = sum(here.count for tank in room.tanks.values() for here in tank.animals)
    came, went = sum(flows[kind] for kind in CAME), sum(flows[kind] for kind in WENT)
    assert everyone(life, room, after(5000)) == of_file + came - went


@given(rooms, pasts, st.randoms())
def test_neither_clocks_nor_the_order_of_reading_matter(room: Room, past: tuple[Entry, ...], chance: Random) -> None:
    at = [datetime(2026, 1, 1, tzinfo=UTC) + timedelta(minutes=chance.randrange(10**6)) for _ in past]
    other = [replace(entry, at=moment, by=None) for entry, moment in zip(past, at, strict=True)]
    chance.shuffle(other)
    assert folded(room, other) == folded(room, past)


@given(rooms, pasts)
def test_days_may_be_written_down_late(room: Room, past: tuple[Entry, ...]) -> None:
    """Written in the order of days, the same entries make the same counts, however late the others were written."""
    in_order = sorted(past, key=lambda entry: (entry.day, entry.seq))
    life, again = folded(room, past), folded(room, [replace(each, seq=n) for n, each in enumerate(in_order, 1)])
    for days in (0, 10, 60, 100, 200, 400):
        for tank in (*TANKS, "gone"):
            day = DAY + timedelta(days=days)
            assert heads(life, room, day, tank) == heads(again, room, day, tank)


@given(rooms, pasts, st.sets(st.integers(1, 25)))
def test_an_undone_act_leaves_no_trace(room: Room, past: tuple[Entry, ...], undone: set[int]) -> None:
    ledger, plain = MemoryLedger(), [entry for entry in past if entry.seq not in undone]
    for entry in past:
        ledger.append([entry.what], day=entry.day, at=entry.at, by=entry.by)
    for act in sorted(undone & {entry.seq for entry in past}):
        ledger.append([Undone(act)], day=DAY, at=past[0].at, by="Ben")
    assert replace(life_of(ledger, room), seq=0) == folded(room, plain)


def grown(there: Counter[Who], day: date) -> Counter[Who]:
    """The same with one age for all adults that grew up long ago: they may be one group, of their mean age."""
    found = Counter[Who]()
    for (stage, hatched, expected), count in there.items():
        old = stage == "adult" and hatched is not None and (day - hatched).days >= OLD_DAYS
        found[stage, date.min if old else hatched, expected] += count
    return found


@given(rooms, pasts, st.integers(0, 300))
def test_what_is_not_kept_apart_any_more_changes_no_day_that_is(room: Room, past: tuple[Entry, ...], days: int) -> None:
    ledger, today = MemoryLedger(), DAY + timedelta(days=days)
    for entry in past:
        ledger.append([entry.what], day=entry.day, at=entry.at, by=entry.by)
    whole, short = room_as_of(room, life_of(ledger, room), today), room_as_of(room, life_of(ledger, room, today), today)
    for tank in TANKS:
        for back in (KNOWN_DAYS, 30, 1, 0, -30, -100):
            day = today - timedelta(days=back)
            assert grown(who(whole.tanks[tank], day), day) == grown(who(short.tanks[tank], day), day)


@given(st.lists(presences().map(lambda here: replace(here, first=None)), max_size=4))
def test_a_room_of_which_nothing_was_seen_and_no_age_is_known_is_the_files(animals: list[Presence]) -> None:
    room = room_of(*animals)
    assert room_as_of(room, life_of(MemoryLedger(), room), DAY) is room


def test_the_young_of_a_hatch_grow_up_by_age() -> None:
    """60 and 75 days at 25 to 28 °C: Nur and Christianus 2013, Mahmoud and others 2020."""
    room = room_of(Presence("adult", 20))
    life = folded(room, entries((0, sighting("hatch", 30, exact=False))))
    stages = {
        days: [heads(life, room, after(days), "a1", stage) for stage in ("shrimplet", "juvenile", "adult")]
        for days in (0, 59, 60, 74, 75)
    }
    assert stages == {0: [30, 0, 20], 59: [30, 0, 20], 60: [0, 30, 20], 74: [0, 30, 20], 75: [0, 0, 50]}


@pytest.mark.parametrize(("celsius", "days"), [(23.9, 88), (24.0, 60), (None, 60)])
def test_below_24_degrees_they_grow_up_more_slowly(celsius: float | None, days: int) -> None:
    room = room_of(celsius=celsius)
    life = folded(room, entries((0, sighting("hatch", 30, exact=False))))
    assert heads(life, room, after(days - 1), "a1", "shrimplet") == 30
    assert heads(life, room, after(days), "a1", "juvenile") == 30


def test_a_count_of_juveniles_says_that_shrimplets_old_enough_have_grown_up() -> None:
    room = room_of()
    life = folded(room, entries((0, sighting("hatch", 30, exact=False)), (50, sighting("count", 25, stage="juvenile"))))
    assert heads(life, room, after(50), "a1", "juvenile") == 25
    assert heads(life, room, after(50), "a1", "shrimplet") == 5
    assert life.disagreements == ()


def test_shrimplets_too_young_for_it_do_not_become_what_was_counted() -> None:
    room = room_of()
    life = folded(room, entries((0, sighting("hatch", 30, exact=False)), (20, sighting("count", 5, stage="juvenile"))))
    assert heads(life, room, after(20), "a1") == 35
    (found,) = life.disagreements
    assert (found.kind, found.known, found.seen) == ("count", 0, Heads(5))


def test_a_count_by_the_eye_changes_nothing_where_it_agrees() -> None:
    room = room_of(Presence("adult", 40))
    life = folded(room, entries((3, sighting("count", 30, exact=False))))
    assert heads(life, room, after(3), "a1", "adult") == 40
    assert life.disagreements == ()


def test_more_left_than_were_known_is_kept_and_whoever_was_moved_arrives() -> None:
    room = room_of(Presence("adult", 7))
    life = folded(room, entries((1, sighting("moved", 10))))
    assert (heads(life, room, after(1), "a1"), heads(life, room, after(1), "b2")) == (0, 10)
    (found,) = life.disagreements
    assert (found.kind, found.known, found.seen) == ("more_left", 7, Heads(10))


def test_a_hatch_takes_the_place_of_one_that_the_file_foresees_and_both_numbers_are_kept() -> None:
    room = room_of(Presence("shrimplet", 40, first=DAY + timedelta(days=9)))
    life = folded(room, entries((0, sighting("hatch", 30, exact=False))))
    assert heads(life, room, after(20), "a1", "shrimplet") == 30
    (found,) = life.disagreements
    assert (found.kind, found.known, found.seen.number) == ("hatch_foreseen", 40, 30)


def test_moved_young_keep_their_age_and_their_line() -> None:
    room = room_of()
    moved = sighting("moved", 10, stage="shrimplet", line="red")
    life = folded(room, entries((0, sighting("hatch", 30, exact=False, line="red")), (10, moved)))
    there = [here for here in life.animals["b2"] if here.stage == "juvenile"]
    assert [(here.first, here.hatched, here.count) for here in there] == [(after(60), DAY, 10)]


def test_animals_of_unknown_age_are_no_fresh_hatch_after_one_of_them_died() -> None:
    room = room_of(Presence("shrimplet", 40))
    life = folded(room, entries((5, sighting("dead", stage="shrimplet"))))
    assert [here.hatch_day for here in life.animals["a1"]] == [None, None]


def test_a_size_class_and_a_target_that_cannot_be_are_no_sighting() -> None:
    with pytest.raises(ValueError, match="one of the size classes"):
        Sighting("a1", "hatch", "shrimplet", 31, False)
    with pytest.raises(ValueError, match="another tank"):
        Sighting("a1", "moved", "adult", 3, True)
    with pytest.raises(ValueError, match="another tank"):
        Sighting("a1", "moved", "adult", 3, True, to="a1")
