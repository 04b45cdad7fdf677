"""Missed servings: what was due, how long the tank has been without it, and what becomes of it."""

from __future__ import annotations

from datetime import timedelta

from schedules.history import LOOK_BACK_DAYS
from schedules.ledger import PostedServing, Reason, Skipped
from schedules.review.missed import Missed, Turns, missed, unposted_days
from schedules.room import Presence
from tests.amounts.rooms import TODAY, Past, days_ago, due, make_feed, make_room, make_tank

DUST = make_feed("dust", "powder")
GRUB = make_feed("grub", "protein")
FEEDS = (DUST, GRUB)
GROWN = make_tank("a1", FEEDS, animals=(Presence("adult", 30),))
YOUNG = make_tank("a2", FEEDS)
ROOM = make_room(FEEDS, GROWN, YOUNG)


def serving(tank: str = "a2", feed: str = "dust") -> PostedServing:
    return due(tank, DUST if feed == "dust" else GRUB, 0.3, 36)


def on(days: int, *numbers: int, what: PostedServing | None = None) -> tuple[tuple[PostedServing, ...], ...]:
    return tuple((what or serving(),) if number in numbers else () for number in range(days))


def found(past: Past) -> tuple[Missed, ...]:
    return missed(ROOM, past.history(), Turns(past.postings), TODAY, days_ago(7))


def test_a_serving_neither_given_nor_skipped_was_missed() -> None:
    past = Past().posted(days_ago(3), *on(10, 0, 1, 2))
    past.gave("a2", DUST, days_ago(3), 0.3).write(Skipped("a2", "dust", "morning", Reason.other("cloudy")), days_ago(2))

    assert [each.day for each in found(past)] == [days_ago(1)]


def test_what_is_due_today_is_not_missed_yet() -> None:
    assert found(Past().posted(days_ago(1), *on(5, 1))) == ()


def test_days_without_count_from_the_needs_last_answer_and_are_held_against_its_longest_gap() -> None:
    past = Past().gave("a2", DUST, days_ago(5), 0.3).posted(days_ago(3), *on(10, 0))

    (each,) = found(past)

    assert (each.need, each.without, each.max_gap, each.overdue) == ("fine", 5, 2, True)


def test_another_feed_that_answers_the_same_need_counts_as_an_answer() -> None:
    film = make_feed("film", "biofilm")
    room = make_room((DUST, film), make_tank("a2", (DUST, film)))
    past = Past().gave("a2", DUST, days_ago(5), 0.3).gave("a2", film, days_ago(1), 0.3).posted(days_ago(3), *on(10, 0))

    (each,) = missed(room, past.history(), Turns(past.postings), TODAY, days_ago(7))

    assert (each.need, each.without, each.overdue) == ("fine", 1, False)


def test_what_nobody_in_the_tank_needs_any_more_stands_for_itself() -> None:
    past = Past().posted(days_ago(3), *on(10, 0, what=due("a1", DUST, 0.3, 36))).gave("a1", DUST, days_ago(9), 0.3)

    (each,) = found(past)

    assert (each.need, each.without, each.max_gap, each.overdue) == ("dust", 9, None, False)


def test_a_missed_serving_that_was_given_since_says_when() -> None:
    past = Past().posted(days_ago(3), *on(10, 0)).gave("a2", DUST, days_ago(1), 0.3, planned=False)

    (each,) = found(past)

    assert (each.outcome, each.on) == ("given since", days_ago(1))


def test_a_missed_serving_that_the_new_plan_brings_forward_is_given_later() -> None:
    past = Past().posted(days_ago(3), *on(10, 0, 6)).posted(TODAY, *on(10, 1))

    (each,) = found(past)

    assert (each.outcome, each.on) == ("given later", TODAY + timedelta(days=1))


def test_a_missed_serving_whose_next_turn_stays_is_let_go() -> None:
    past = Past().posted(days_ago(3), *on(10, 0, 6)).posted(TODAY, *on(10, 3))

    (each,) = found(past)

    assert (each.outcome, each.on) == ("let go", TODAY + timedelta(days=3))


def test_a_missed_serving_with_no_turn_to_come_is_let_go() -> None:
    (each,) = found(Past().posted(days_ago(3), *on(4, 0)))

    assert (each.outcome, each.on) == ("let go", None)


def test_shrimplets_come_first_however_long_the_others_waited() -> None:
    day = (serving("a1", "grub"), serving("a2", "dust"))
    past = Past().gave("a1", GRUB, days_ago(30), 0.3).gave("a2", DUST, days_ago(2), 0.3).posted(days_ago(1), day)

    assert [each.due.tank for each in found(past)] == ["a2", "a1"]


def test_what_was_due_is_what_was_posted_though_the_room_has_changed_since() -> None:
    past = Past().posted(days_ago(2), *on(5, 0, what=due("a2", DUST, 0.3, 999)))

    assert found(past)[0].due.amount_mg == 999


def test_days_that_no_posting_covers_are_told_and_nothing_counts_as_missed_on_them() -> None:
    past = Past().posted(days_ago(6), *on(3)).posted(TODAY, *on(5))

    assert unposted_days(past.history(), TODAY, days_ago(7)) == (days_ago(3), days_ago(2), days_ago(1))
    assert found(past) == ()


def test_another_feed_given_or_leftovers_seen_in_the_tank_do_not_settle_a_serving() -> None:
    past = Past().gave("a2", GRUB, days_ago(1), 0.3).saw("a2", DUST, days_ago(1), "none")
    past.posted(days_ago(3), *on(3, 2))

    assert [(each.due.feed, each.day) for each in found(past)] == [("dust", days_ago(1))]


def test_a_tank_is_overdue_on_the_day_its_longest_gap_is_reached() -> None:
    past = Past().gave("a2", DUST, days_ago(2), 0.3).posted(days_ago(1), *on(3, 0))

    (each,) = found(past)

    assert (each.without, each.max_gap, each.overdue) == (2, 2, True)


def test_yesterdays_serving_whose_next_turn_is_today_is_let_go() -> None:
    past = Past().posted(days_ago(1), *on(3, 0, 1))

    (each,) = found(past)

    assert (each.outcome, each.on) == ("let go", TODAY)


def test_a_plan_posted_today_that_gives_it_today_is_read_from_its_first_day() -> None:
    past = Past().posted(days_ago(3), *on(3, 0)).posted(TODAY, *on(5, 0, 3))

    (each,) = found(past)

    assert (each.outcome, each.on) == ("given later", TODAY)


def test_a_day_before_every_posting_has_no_next_turn() -> None:
    assert Turns(()).after(TODAY, serving()) is None


def test_among_grown_animals_the_overdue_come_first_then_the_longest_without() -> None:
    grown = [make_tank(name, FEEDS, animals=(Presence("adult", 30),)) for name in ("a1", "a3", "a4")]
    past = Past().gave("a1", DUST, days_ago(25), 0.3).gave("a3", GRUB, days_ago(9), 0.3)
    past.gave("a4", GRUB, days_ago(20), 0.3)
    past.posted(days_ago(1), (serving("a1", "dust"), serving("a3", "grub"), serving("a4", "grub")))

    listed = missed(make_room(FEEDS, *grown), past.history(), Turns(past.postings), TODAY, days_ago(7))

    assert [(each.due.tank, each.without, each.overdue) for each in listed] == [
        ("a4", 20, True),
        ("a3", 9, True),
        ("a1", 25, False),
    ]


def test_shrimplets_that_were_there_on_the_missed_day_come_first_though_they_are_grown_now() -> None:
    grew = make_tank("a9", FEEDS, animals=(Presence("shrimplet", 60, last=days_ago(3)), Presence("adult", 5)))
    day = (due("a1", GRUB, 0.3, 36), due("a9", GRUB, 0.3, 36))
    past = Past().gave("a1", GRUB, days_ago(25), 0.3).gave("a9", GRUB, days_ago(5), 0.3).posted(days_ago(3), day)

    listed = missed(make_room(FEEDS, GROWN, grew), past.history(), Turns(past.postings), TODAY, days_ago(7))

    assert [each.due.tank for each in listed] == ["a9", "a1"]


def test_unposted_days_are_those_asked_for_that_the_ledger_still_holds_after_the_first_posting() -> None:
    recent = Past().posted(days_ago(9), *on(3))
    long_ago = Past().posted(days_ago(LOOK_BACK_DAYS + 10), *on(3))

    assert unposted_days(Past().history(), TODAY, days_ago(7)) == ()
    assert unposted_days(recent.history(), TODAY, days_ago(2)) == (days_ago(2), days_ago(1))
    assert unposted_days(long_ago.history(), TODAY, days_ago(LOOK_BACK_DAYS + 5))[0] == days_ago(LOOK_BACK_DAYS)
