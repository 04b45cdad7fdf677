"""What was missed, put together by consequence and tank; days for which nothing was posted, as spans."""

from __future__ import annotations

from datetime import date, timedelta

from schedules.ledger import Posting
from schedules.ledger.stores.memory import MemoryLedger
from schedules.review.missed import DaySpan, Missed, Turns, by_consequence, missed, spans, whole_spans
from schedules.wording.missed import summary_lines, unposted_text
from tests.amounts.rooms import TODAY, Past, at, days_ago
from tests.missed.test_missed import DUST, GRUB, ROOM, on, serving


def found(past: Past) -> tuple[Missed, ...]:
    return missed(ROOM, past.history(), Turns(past.postings), TODAY, days_ago(7))


def test_the_worst_consequence_comes_first_and_a_tank_stands_once_in_it() -> None:
    both = (serving(), serving(feed="grub"))
    past = Past().gave("a2", DUST, days_ago(9), 0.3).gave("a2", GRUB, days_ago(9), 0.3)
    past.posted(days_ago(3), both, both, both)

    groups = by_consequence(found(past))

    assert [group.consequence for group in groups] == ["overdue"]
    ((tank, feeds),) = groups[0].tanks
    assert tank == "a2"
    assert {feed.newest.due.feed: feed.days for feed in feeds} == {
        name: (days_ago(3), days_ago(2), days_ago(1)) for name in ("dust", "grub")
    }


def test_what_was_given_since_is_no_trouble_however_long_it_had_been() -> None:
    past = Past().posted(days_ago(3), *on(10, 0)).gave("a2", DUST, days_ago(1), 0.3, planned=False)

    assert [group.consequence for group in by_consequence(found(past))] == ["given_since"]


def test_the_summary_is_a_line_for_each_consequence_and_then_one_for_each_tank() -> None:
    past = Past().posted(days_ago(3), *on(3, 0, 1, 2))
    listed = found(past)

    lines = list(summary_lines(ROOM, listed, by_consequence(listed), TODAY))

    assert lines[0] == "3 servings missed in 1 tank"
    assert sum(line.startswith("  a2 ") for line in lines) == 1
    assert "missed Sun 22 Nov, Mon 23 Nov, Tue 24 Nov" in lines[-1]


def test_a_turn_beyond_a_posting_of_today_alone_is_read_from_the_plan_it_followed() -> None:
    past = Past().posted(days_ago(1), *on(10, 0, 4)).posted(TODAY, ())

    (each,) = found(past)

    assert (each.outcome, each.on) == ("let go", TODAY + timedelta(days=3))


def test_what_a_later_posting_says_of_a_day_is_not_read_from_an_earlier_one() -> None:
    past = Past().posted(days_ago(1), *on(10, 0, 1)).posted(TODAY, (), ())

    (each,) = found(past)

    assert each.on is None


def test_days_that_follow_each_other_are_one_span() -> None:
    days = [days_ago(number) for number in (6, 5, 3, 1)]

    assert spans(days) == (
        DaySpan(days_ago(6), days_ago(5)),
        DaySpan(days_ago(3), days_ago(3)),
        DaySpan(days_ago(1), days_ago(1)),
    )


def test_months_away_are_one_span_from_the_end_of_the_last_plan_on() -> None:
    ledger = MemoryLedger()
    begun = days_ago(92)
    posting = Posting(begun, tuple((serving(),) for _ in range(28)))
    ledger.append([posting], day=begun, at=at(begun), by=None)
    week = [days_ago(number) for number in range(7, 0, -1)]

    (span,) = whole_spans(ledger, week)

    assert span == DaySpan(begun + timedelta(days=28), days_ago(1))
    assert unposted_text(DaySpan(date(2026, 9, 22), date(2026, 11, 24))) == (
        "no plan was posted from Tue 22 Sep 2026 to Tue 24 Nov 2026, so nothing was due"
    )


def test_days_away_with_no_plan_ever_posted_begin_where_they_were_looked_for() -> None:
    assert whole_spans(MemoryLedger(), [days_ago(2), days_ago(1)]) == (DaySpan(days_ago(2), days_ago(1)),)
