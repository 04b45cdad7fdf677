"""What follows from each thing seen, worked out by hand: every change, who is there from when to when, what differs.

Young are juveniles after 60 days and adults after 75 at 25 to 28 °C (Nur and Christianus 2013, Mahmoud and others
2020).
"""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any

import pytest

from schedules.history.life import Brood, Change, Disagreement, Life
from schedules.history.life.shares import shared_out
from schedules.ledger import Saw, Sighting
from schedules.room import Presence, Room
from schedules.room.heads import Heads
from schedules.room.kinds import Stage
from tests.life.rooms import DAY, entries, folded, room_of, sighting

TWENTY = room_of(Presence("adult", 20))
EMPTY = room_of()


def after(days: int) -> date:
    return DAY + timedelta(days=days)


def then(stage: Stage, count: int, first: int | None, last: int | None = None, **other: Any) -> Presence:
    """Animals from a day to a day, both counted from `DAY`."""
    return Presence(
        stage,
        count,
        first=None if first is None else after(first),
        last=None if last is None else after(last),
        **other,
    )


def young(count: int, hatched: int = 0, until: int = 59) -> set[Presence]:
    """The young of a hatch as they grow up, the shrimplets until a day."""
    day = after(hatched)
    return {
        then("shrimplet", count, hatched, until, hatched=day),
        then("juvenile", count, hatched + 60, hatched + 74, hatched=day, goes_on=True),
        then("adult", count, hatched + 75, hatched=day, goes_on=True),
    }


def life_after(room: Room, *seen: tuple[int, Sighting]) -> Life:
    return folded(room, entries(*seen))


def there(life: Life, tank: str = "a1") -> set[Presence]:
    """Who is in a tank from when to when; nobody is listed twice."""
    listed = life.animals[tank]
    assert len(set(listed)) == len(listed)
    return set(listed)


def test_a_hatch_brings_young_that_grow_up() -> None:
    life = life_after(TWENTY, (0, sighting("hatch", 30, exact=False, line="red")))

    assert life.changes == (Change(DAY, "a1", 1, "hatched", 30, Heads(30, False), line="red"),)
    assert there(life) == {Presence("adult", 20), *young(30)}
    assert (life.arrived, life.disagreements, life.broods) == ({}, (), ())


@pytest.mark.parametrize(
    ("stage", "who"),
    [
        ("adult", {then("adult", 5, 3)}),
        ("juvenile", {then("juvenile", 5, 3, 17), then("adult", 5, 18, goes_on=True)}),
        ("shrimplet", young(5, 3, 62)),
    ],
)
def test_new_animals_are_there_from_their_day_on_and_grow_up_as_far_as_their_age_is_known(
    stage: Stage, who: set[Presence]
) -> None:
    life = life_after(TWENTY, (3, sighting("added", 5, stage=stage)))

    assert life.changes == (Change(after(3), "a1", 1, "added", 5),)
    assert there(life) == {Presence("adult", 20), *who}
    assert life.arrived == {"a1": after(3)}


@pytest.mark.parametrize("saw", ["dead", "sold", "culled"])
def test_those_that_leave_the_room_are_there_until_the_day_before(saw: Saw) -> None:
    life = life_after(TWENTY, (5, sighting(saw, 3)))

    assert life.changes == (Change(after(5), "a1", 0, saw, 3),)  # type: ignore[arg-type]
    assert there(life) == {then("adult", 20, None, 4), then("adult", 17, 5, goes_on=True)}
    assert (life.arrived, life.disagreements, set(life.animals)) == ({}, (), {"a1"})


def test_those_that_are_moved_are_in_the_other_tank_from_that_day_on() -> None:
    life = life_after(TWENTY, (5, sighting("moved", 3)))

    assert life.changes == (Change(after(5), "a1", 0, "moved", 3, to="b2"),)
    assert there(life) == {then("adult", 20, None, 4), then("adult", 17, 5, goes_on=True)}
    assert there(life, "b2") == {then("adult", 3, 5, goes_on=True)}
    assert (life.arrived, life.disagreements) == ({"b2": after(5)}, ())


def test_all_that_leave_leave_nobody() -> None:
    life = life_after(TWENTY, (5, sighting("sold", 20)))

    assert there(life) == {then("adult", 20, None, 4)}


def test_those_that_leave_come_from_all_groups_in_proportion_or_from_their_line_alone() -> None:
    bought = (0, sighting("added", 10, line="red"))
    of_all = life_after(TWENTY, bought, (5, sighting("dead", 6)))
    of_line = life_after(TWENTY, bought, (5, sighting("dead", 6, line="red")))
    of_unknown_line = life_after(TWENTY, bought, (5, sighting("dead", 6, line="blue")))

    died = (Change(after(5), "a1", 0, "dead", 4), Change(after(5), "a1", 1, "dead", 2))
    assert of_all.changes[1:] == of_unknown_line.changes[1:] == died
    assert there(of_all) == {
        then("adult", 20, None, 4),
        then("adult", 16, 5, goes_on=True),
        then("adult", 10, 0, 4),
        then("adult", 8, 5, goes_on=True),
    }
    assert of_line.changes[1:] == (Change(after(5), "a1", 1, "dead", 6),)


@pytest.mark.parametrize(("known", "left", "differs"), [(20, 10, False), (10, 10, False), (7, 7, False), (5, 10, True)])
def test_of_a_class_as_many_leave_as_are_known_where_the_class_allows_it(known: int, left: int, differs: bool) -> None:
    # About 10 are 6 to 17 (`schedules/room/heads.py`).
    life = life_after(room_of(Presence("adult", known)), (5, sighting("moved", 10, exact=False)))

    assert sum(here.count for here in life.animals["b2"]) == left
    assert life.disagreements == (
        (Disagreement("more_left", after(5), "a1", "adult", 5, Heads(10, False)),) if differs else ()
    )


def test_those_moved_of_whom_nobody_knew_are_found_where_they_arrive() -> None:
    life = life_after(room_of(Presence("adult", 7)), (5, sighting("moved", 10, line="red")))

    assert life.changes == (
        Change(after(5), "a1", 0, "moved", 7, to="b2"),
        Change(after(5), "b2", 1, "found", 3),
    )
    assert there(life, "b2") == {then("adult", 7, 5, goes_on=True), then("adult", 3, 5, goes_on=True)}
    assert life.disagreements == (Disagreement("more_left", after(5), "a1", "adult", 7, Heads(10)),)
    later = life_after(
        room_of(Presence("adult", 7)),
        (5, sighting("moved", 10, line="red")),
        (9, sighting("sold", 10, tank="b2", line="red")),
    )
    assert sum(change.heads for change in later.changes if change.kind == "sold") == 10


def test_a_count_above_what_is_known_finds_heads_and_one_below_misses_them() -> None:
    more = life_after(TWENTY, (5, sighting("count", 26)))
    less = life_after(TWENTY, (5, sighting("count", 15)))

    assert more.changes == (
        Change(after(5), "a1", 0, "found", 6),
        Change(after(5), "a1", 0, "counted", 26, Heads(26)),
    )
    assert there(more) == {then("adult", 20, None, 4), then("adult", 26, 5, goes_on=True)}
    assert more.disagreements == (Disagreement("count", after(5), "a1", "adult", 20, Heads(26)),)
    assert less.changes == (
        Change(after(5), "a1", 0, "missing", 5),
        Change(after(5), "a1", 0, "counted", 15, Heads(15)),
    )
    assert there(less) == {then("adult", 20, None, 4), then("adult", 15, 5, goes_on=True)}
    assert less.disagreements == (Disagreement("count", after(5), "a1", "adult", 20, Heads(15)),)


@pytest.mark.parametrize("seen", [Heads(20), Heads(10, False), Heads(30, False)])
def test_a_count_that_agrees_is_only_noted(seen: Heads) -> None:
    known = 17 if seen.number == 10 else 20 if seen.exact else 54
    life = life_after(room_of(Presence("adult", known)), (5, sighting("count", seen.number, exact=seen.exact)))

    assert life.changes == (Change(after(5), "a1", 0, "counted", known, seen),)
    assert life.disagreements == ()
    assert there(life) == {Presence("adult", known)}


@pytest.mark.parametrize(("known", "number"), [(18, 10), (5, 10), (55, 30), (17, 30)])
def test_a_count_by_the_eye_that_cannot_be_sets_the_number_to_its_class(known: int, number: int) -> None:
    life = life_after(room_of(Presence("adult", known)), (5, sighting("count", number, exact=False)))

    assert life.changes[-1] == Change(after(5), "a1", 0, "counted", number, Heads(number, False))
    assert life.disagreements == (Disagreement("count", after(5), "a1", "adult", known, Heads(number, False)),)


def test_heads_counted_where_nobody_was_known_are_a_group_of_that_count() -> None:
    life = life_after(EMPTY, (5, sighting("count", 4)))

    assert life.changes == (
        Change(after(5), "a1", 1, "found", 4),
        Change(after(5), "a1", 1, "counted", 4, Heads(4)),
    )
    assert there(life) == {then("adult", 4, 5, goes_on=True)}


def test_heads_found_and_missed_are_shared_out_among_the_groups() -> None:
    bought = (0, sighting("added", 10))
    more = life_after(TWENTY, bought, (5, sighting("count", 36)))
    less = life_after(TWENTY, bought, (5, sighting("count", 24)))

    assert [(change.origin, change.kind, change.heads) for change in more.changes[1:]] == [
        (0, "found", 4),
        (1, "found", 2),
        (0, "counted", 24),
        (1, "counted", 12),
    ]
    assert [(change.origin, change.kind, change.heads) for change in less.changes[1:]] == [
        (0, "missing", 4),
        (1, "missing", 2),
        (0, "counted", 16),
        (1, "counted", 8),
    ]


def test_juveniles_counted_early_grow_up_fifteen_days_later_and_the_others_by_their_age() -> None:
    life = life_after(EMPTY, (0, sighting("hatch", 30)), (50, sighting("count", 25, stage="juvenile")))

    assert life.changes[1:] == (Change(after(50), "a1", 1, "counted", 25, Heads(25)),)
    assert there(life) == {
        then("shrimplet", 30, 0, 49, hatched=DAY),
        then("shrimplet", 5, 50, 59, hatched=DAY, goes_on=True),
        then("juvenile", 5, 60, 74, hatched=DAY, goes_on=True),
        then("adult", 5, 75, hatched=DAY, goes_on=True),
        then("juvenile", 25, 50, 64, hatched=DAY, goes_on=True),
        then("adult", 25, 65, hatched=DAY, goes_on=True),
    }


def test_shrimplets_counted_late_stay_young_until_the_slow_age() -> None:
    """88 days: `schedules/history/life/ages.py`, a proposal, no source."""
    life = life_after(EMPTY, (0, sighting("hatch", 30)), (70, sighting("count", 30, stage="shrimplet")))

    assert life.disagreements == ()
    assert there(life) == {
        then("shrimplet", 30, 0, 59, hatched=DAY),
        then("juvenile", 30, 60, 69, hatched=DAY, goes_on=True),
        then("shrimplet", 30, 70, 87, hatched=DAY, goes_on=True),
        then("juvenile", 30, 88, 88, hatched=DAY, goes_on=True),
        then("adult", 30, 89, hatched=DAY, goes_on=True),
    }


def test_of_two_hatches_the_older_one_grows_up_first() -> None:
    life = life_after(
        EMPTY,
        (0, sighting("hatch", 10)),
        (5, sighting("hatch", 10)),
        (55, sighting("count", 10, stage="juvenile")),
    )

    assert [(change.origin, change.heads) for change in life.changes if change.kind == "counted"] == [(1, 10)]


@pytest.mark.parametrize(
    ("foreseen", "kind"),
    [(15, None), (14, "hatch_foreseen"), (1, "hatch_foreseen"), (0, "hatch_twice"), (-14, "hatch_twice"), (-15, None)],
)
def test_a_hatch_within_two_weeks_of_one_in_the_file_is_that_one_where_it_lies_ahead(foreseen: int, kind: Any) -> None:
    room = room_of(Presence("shrimplet", 40, first=after(foreseen)))
    life = life_after(room, (0, sighting("hatch", 30)))

    told = Disagreement(kind, DAY, "a1", "shrimplet", 40, Heads(30), after(foreseen))
    assert life.disagreements == ((told,) if kind else ())
    replaced = Change(DAY, "a1", 0, "replaced", 40)
    hatched = Change(DAY, "a1", 1, "hatched", 30, Heads(30))
    assert life.changes == ((replaced, hatched) if kind == "hatch_foreseen" else (hatched,))
    of_file = {here.first for here in there(life) if here.stage == "shrimplet" and here.count == 40}
    assert of_file == (set() if kind == "hatch_foreseen" else {after(foreseen)})


def test_females_seen_berried_and_with_eyes_carry_broods_until_the_hatch() -> None:
    berried = (0, sighting("berried", 2))
    assert life_after(TWENTY, berried).broods == (Brood("a1", 2, DAY, None, 1),)
    assert life_after(TWENTY, berried, (3, sighting("berried", 3))).broods == (
        Brood("a1", 2, DAY, None, 1),
        Brood("a1", 1, after(3), None, 2),
    )
    assert life_after(TWENTY, berried, (9, sighting("eyed", 1))).broods == (
        Brood("a1", 1, DAY, after(9), 1),
        Brood("a1", 1, DAY, None, 1),
    )
    assert life_after(TWENTY, berried, (15, sighting("hatch", 30))).broods == (Brood("a1", 1, DAY, None, 1),)
    assert life_after(TWENTY, berried, (3, sighting("berried", 0))).broods == ()
    assert life_after(TWENTY, (3, sighting("eyed", 1))).broods == (Brood("a1", 1, None, after(3), 1),)


def test_broods_go_with_females_that_are_moved() -> None:
    berried = (0, sighting("berried", 2))
    moved = life_after(TWENTY, berried, (3, sighting("moved", 3, berried=1)))
    assert set(moved.broods) == {Brood("a1", 1, DAY, None, 1), Brood("b2", 1, DAY, None, 1)}
    unknown = life_after(TWENTY, berried, (3, sighting("moved", 4, berried=3)))
    assert set(unknown.broods) == {Brood("b2", 2, DAY, None, 1), Brood("b2", 1, after(3), None, 2)}
    assert life_after(TWENTY, berried, (3, sighting("sold", 20))).broods == ()


def test_adults_whom_nothing_tells_apart_any_more_are_one_group_from_the_next_day_on() -> None:
    bought = ((0, sighting("added", 5)), (1, sighting("added", 3)))
    life = life_after(EMPTY, *bought, (10, sighting("dead", 1)))

    assert there(life) == {
        then("adult", 5, 0, 1),
        then("adult", 3, 1, 1),
        then("adult", 8, 2, 9, goes_on=True),
        then("adult", 7, 10, goes_on=True),
    }
    assert life.changes[-1] == Change(after(10), "a1", 0, "dead", 1)


def test_old_animals_of_two_hatches_are_one_group_of_their_mean_age() -> None:
    """Old is 111 days, the day after the slow bound makes them adults (`schedules/history/life/ages.py`)."""
    hatches = ((0, sighting("hatch", 10)), (20, sighting("hatch", 30)))
    life = life_after(EMPTY, *hatches, (200, sighting("dead", 1)))

    # 10 heads from day 0 and 30 from day 20: day 15 on the mean.
    assert {here for here in there(life) if here.first is not None and here.first >= after(100)} == {
        then("adult", 40, 131, 199, hatched=after(15), goes_on=True),
        then("adult", 39, 200, hatched=after(15), goes_on=True),
    }


@pytest.mark.parametrize("line", ["red", "blue"])
def test_lines_are_kept_apart_for_good(line: str) -> None:
    bought = ((0, sighting("added", 5, line="red")), (1, sighting("added", 3, line=line)))
    life = life_after(EMPTY, *bought, (10, sighting("dead", 1, line="red")))

    groups = [here.count for here in there(life) if here.on(after(9))]
    assert sorted(groups) == ([8] if line == "red" else [3, 5])


def test_the_young_of_a_line_are_told_apart_from_those_of_another() -> None:
    hatches = ((0, sighting("hatch", 10, line="red")), (0, sighting("hatch", 10, line="blue")))
    life = life_after(EMPTY, *hatches, (5, sighting("dead", 4, stage="shrimplet", line="red")))

    assert life.changes[-1] == Change(after(5), "a1", 1, "dead", 4)


def test_a_group_made_of_two_is_still_of_their_line() -> None:
    bought = ((0, sighting("added", 5, line="red")), (1, sighting("added", 3, line="red")))
    life = life_after(EMPTY, *bought, (2, sighting("added", 8, line="blue")), (10, sighting("sold", 8, line="red")))

    assert life.changes[-1] == Change(after(10), "a1", 0, "sold", 8)
    assert {here for here in there(life) if here.on(after(10))} == {then("adult", 8, 2)}


@pytest.mark.parametrize(
    ("heads", "among", "shares"),
    [
        # Hamilton's method: whole shares first, then one each by the largest remainder, the first in a tie.
        (10, [47_000, 16_000, 15_900, 12_000, 6_000, 3_100], [5, 2, 1, 1, 1, 0]),
        (5, [3, 3, 3], [2, 2, 1]),
        (1, [1, 9], [0, 1]),
        (7, [7, 0], [7, 0]),
        (4, [0, 0], [0, 0]),
    ],
)
def test_heads_are_shared_out_by_the_largest_remainder(heads: int, among: list[int], shares: list[int]) -> None:
    assert shared_out(heads, among) == shares
