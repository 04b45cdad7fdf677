"""What is on the shelf is what was weighed, and what came and went since. The numbers are worked out by hand."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta
from itertools import count

import pytest
from hypothesis import given
from hypothesis import strategies as st

from schedules.ledger import Delivered, Entry, Served, Weighed, What
from schedules.stock import shelf_of

DAY = date(2026, 11, 2)
AT = datetime(2026, 11, 2, 7, tzinfo=UTC)


def entries(*dated: tuple[int, What]) -> list[Entry]:
    """Entries on days counted from the first of them, in the order in which they were written."""
    numbers = count(1)
    return [Entry(seq := next(numbers), seq, DAY + timedelta(days=day), AT, "Ana", what) for day, what in dated]


def given_mg(mg: float) -> Served:
    return Served("a1", "dust", "morning", 1.0, "scoop", mg, 0.3, True)


def test_nothing_is_known_before_a_feed_was_weighed_or_delivered() -> None:
    assert shelf_of([]) is None
    assert shelf_of(entries((0, given_mg(500)))) is None


def test_what_was_weighed_less_what_was_given_since_with_the_usual_losses() -> None:
    # 10 g less 2 g given: at least 2.0 g left the shelf, likely 2.2 g, at most 2.5 g.
    shelf = shelf_of(entries((0, Weighed("dust", 10)), (1, given_mg(1500)), (2, given_mg(500))))

    assert shelf is not None
    assert (shelf.most, shelf.likely, shelf.least) == pytest.approx((8.0, 7.8, 7.5))
    assert (shelf.since, shelf.weighed) == (DAY, True)
    assert shelf.given == pytest.approx(2.0)


def test_a_delivery_adds_and_begins_the_count_where_nothing_was_weighed() -> None:
    listed = entries((0, given_mg(900)), (1, Delivered("dust", 20)), (2, given_mg(1000)), (3, Delivered("dust", 5)))
    shelf = shelf_of(listed)

    assert shelf is not None
    assert shelf.most == pytest.approx(24.0)
    assert (shelf.since, shelf.weighed) == (DAY + timedelta(days=1), False)


def test_what_was_entered_on_the_day_before_it_was_weighed_is_gone_already() -> None:
    before = shelf_of(entries((0, given_mg(1000)), (0, Weighed("dust", 10))))
    after = shelf_of(entries((0, Weighed("dust", 10)), (0, given_mg(1000))))

    assert before is not None
    assert after is not None
    assert [before.most, after.most] == pytest.approx([10.0, 9.0])


def test_losses_are_found_out_between_two_weighings() -> None:
    # 10 g and a delivery of 5 g, 9 g found later: 6 g left the shelf for 4 g given, half as much again.
    shelf = shelf_of(
        entries(
            (0, Weighed("dust", 10)), (3, Delivered("dust", 5)), (5, given_mg(4000)), (9, Weighed("dust", 9)),
            (10, given_mg(1000)),
        )
    )  # fmt: skip

    assert shelf is not None
    assert shelf.taken.likely == pytest.approx(1.5)
    assert (shelf.taken.least, shelf.taken.most) == pytest.approx((1.35, 1.65))
    assert shelf.taken.weighings == 2
    assert shelf.likely == pytest.approx(9 - 1.5)


def test_two_weighings_with_next_to_nothing_given_between_say_nothing_of_losses() -> None:
    shelf = shelf_of(entries((0, Weighed("dust", 10)), (1, given_mg(100)), (2, Weighed("dust", 7))))

    assert shelf is not None
    assert shelf.taken.weighings == 0


EVENTS = st.lists(
    st.tuples(
        st.integers(0, 60),
        st.one_of(
            st.floats(0, 500).map(lambda grams: Weighed("dust", grams)),
            st.floats(0, 500).map(lambda grams: Delivered("dust", grams)),
            st.floats(1, 5000).map(given_mg),
        ),
    ),
    max_size=30,
)


@given(EVENTS)
def test_the_range_is_a_range_and_never_below_nothing(events: list[tuple[int, What]]) -> None:
    shelf = shelf_of(entries(*events))

    if shelf is not None:
        assert 0 <= shelf.least <= shelf.likely + 1e-9
        assert shelf.likely <= shelf.most + 1e-9


@given(EVENTS)
def test_a_shelf_is_the_same_in_whatever_order_its_entries_are_read(events: list[tuple[int, What]]) -> None:
    listed = entries(*events)

    assert shelf_of(listed) == shelf_of(list(reversed(listed)))
