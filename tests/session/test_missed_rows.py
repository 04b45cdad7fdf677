"""What was missed, put together for the eye: whole rounds in a line, the newest first, everything else a line each."""

from __future__ import annotations

from datetime import date

from schedules.ledger.entries import Noted
from schedules.review.missed import Missed
from schedules.session.missed_rows import MissedRow, last_looked, missed_rows
from tests.amounts.rooms import TODAY, Past, days_ago, due, make_feed, make_room, make_tank

DUST, WAFER = make_feed("dust", "powder"), make_feed("wafer", "staple")
LATE = make_feed("late", "greens", round="evening")
FEEDS = (DUST, WAFER, LATE)
ROOM = make_room(FEEDS, make_tank("a1", FEEDS), make_tank("a2", FEEDS))
POSTED = (
    due("a1", DUST, 0.3, 30),
    due("a1", WAFER, 0.3, 30),
    due("a2", DUST, 0.3, 30),
    due("a1", LATE, 0.3, 30),
    due("gone", DUST, 0.3, 30),
)
HISTORY = Past().posted(days_ago(3), POSTED, POSTED, POSTED).history()


def gap(day: date, number: int) -> Missed:
    return Missed(day, POSTED[number], "fine", 1, 2, "let go", None)


MORNING_3 = tuple(gap(days_ago(3), number) for number in range(3))
MORNING_1 = tuple(gap(days_ago(1), number) for number in range(3))
PART_OF_2 = tuple(gap(days_ago(2), number) for number in range(2))
EVENING_3 = gap(days_ago(3), 3)
FOUND = (*MORNING_3, *PART_OF_2, EVENING_3, *MORNING_1)


def single(each: Missed) -> MissedRow:
    return MissedRow(each.day, each.due.round, (each,), False)


def test_rounds_missed_as_a_whole_come_first_and_the_newest_of_them_before_the_others() -> None:
    """A tank that left the room does not count, a round with one serving is no round that was missed as a whole."""
    assert missed_rows(ROOM, HISTORY, FOUND, ()) == (
        MissedRow(days_ago(1), "morning", MORNING_1, True),
        MissedRow(days_ago(3), "morning", MORNING_3, True),
        single(PART_OF_2[0]),
        single(PART_OF_2[1]),
        single(EVENING_3),
    )


def test_of_a_round_that_is_opened_the_single_servings_stand_below() -> None:
    rows = missed_rows(ROOM, HISTORY, FOUND, {(days_ago(3), "morning"), (days_ago(2), "morning")})
    assert rows[:5] == (
        MissedRow(days_ago(1), "morning", MORNING_1, True),
        MissedRow(days_ago(3), "morning", MORNING_3, True),
        *map(single, MORNING_3),
    )
    assert len(rows) == 8


def test_nothing_missed_is_no_row() -> None:
    assert missed_rows(ROOM, HISTORY, (), ()) == ()


def test_a_keeper_last_looked_on_the_last_day_before_today_on_which_this_one_wrote() -> None:
    past = Past().write(Noted("a1", "x"), days_ago(5)).write(Noted("a1", "x"), days_ago(3))
    past.write(Noted("a1", "x"), days_ago(1), by="Ole").write(Noted("a1", "x"), TODAY)
    history = past.history()
    assert (last_looked(history, "Mara", TODAY), last_looked(history, "Ole", TODAY)) == (days_ago(3), days_ago(1))
    assert last_looked(history, "Ida", TODAY) is None
