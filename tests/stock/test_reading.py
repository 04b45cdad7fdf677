"""The shelf as it is read from a ledger: which entries count, what is still planned, which pack is open until when."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import pytest

from schedules.history import history_of
from schedules.ledger import Delivered, Entry, Noted, Opened, PostedServing, Posting, Served, Undone, Weighed, What
from schedules.ledger.stores.memory import MemoryLedger
from schedules.room import Packs, Room
from schedules.room_file import load_room_text
from schedules.stock import OpenPack, Outlook, Stock, open_packs, room_with_packs, stock_of
from schedules.stock.reading import touches_shelf
from tests.ledger.builders import DAY as TODAY
from tests.ledger.builders import MORNING, write
from tests.tui.rooms import room_text

ROOM = load_room_text(room_text(), "room.toml")


def ago(days: int) -> date:
    return TODAY - timedelta(days=days)


def gave(grams: float, tank: str = "a1", feed: str = "dust", walk: str = "morning") -> Served:
    return Served(tank, feed, walk, 1.0, "scoop", grams * 1000, 0.3, True)


def due(grams: float, tank: str = "a1", feed: str = "dust", walk: str = "morning") -> PostedServing:
    return PostedServing(tank, feed, walk, 0.3, 1.0, "scoop", grams * 1000, "premixed")


def stock_after(*acts: tuple[int, What], room: Room = ROOM) -> Stock:
    """The shelf after acts, each so many days before today."""
    ledger = MemoryLedger()
    for days, what in acts:
        write(ledger, what, day=ago(days), by=None if isinstance(what, Posting) else "Ana")
    return stock_of(ledger, room, history_of(ledger, TODAY), TODAY)


def of(stock: Stock, feed: str = "dust") -> Outlook:
    return next(each for each in stock.feeds if each.feed == feed)


def most(*acts: tuple[int, What]) -> float | None:
    """Grams of dust that there are at most: what came, less exactly what was given."""
    shelf = of(stock_after(*acts)).shelf
    return None if shelf is None else round(shelf.most, 6)


def test_every_feed_of_the_room_is_listed_in_its_order() -> None:
    stock = stock_after((3, Weighed("bug", 10)))
    assert [each.feed for each in stock.feeds] == list(ROOM.feeds)
    assert [each.feed for each in stock.feeds if each.shelf] == ["bug"]
    assert stock.day == TODAY


def test_what_was_given_counts_from_the_weighing_on_however_long_ago_that_was() -> None:
    given = [(days, gave(1)) for days in (300, 200, 100, 1, 0)]
    assert most((250, Weighed("dust", 10)), *given) == 6
    assert most((200, Weighed("dust", 10)), *given) == 6
    assert most((250, Delivered("dust", 10)), *given) == 6


def test_what_was_weighed_or_delivered_a_year_ago_is_read_and_earlier_is_not() -> None:
    assert most((364, Weighed("dust", 10))) == 10
    assert most((365, Weighed("dust", 10))) is None


def test_only_the_feed_itself_counts_and_nothing_of_a_day_to_come() -> None:
    assert most((5, Weighed("dust", 10)), (4, gave(1, feed="bug")), (4, Delivered("bug", 9)), (2, gave(2))) == 8
    assert most((5, Weighed("dust", 10)), (-1, Delivered("dust", 9))) == 10


def test_on_a_usual_day_as_much_is_given_as_a_week_of_plan_says() -> None:
    posting = Posting(TODAY, tuple((due(2), due(1, "a2")) if day in (0, 4) else () for day in range(7)))
    found = of(stock_after((0, posting)))
    assert found.a_day == pytest.approx(6 / 7)
    assert sum(found.weeks.values()) == pytest.approx(6)


def test_less_than_a_week_of_plan_says_less_than_the_last_four_weeks() -> None:
    posting = Posting(TODAY, tuple((due(2),) for _ in range(6)))
    lately = [(29, gave(5)), (28, gave(7)), (14, gave(7)), (1, gave(14)), (0, gave(3))]
    assert of(stock_after((0, posting), *lately)).a_day == pytest.approx((7 + 7 + 14) / 28)
    assert of(stock_after(*lately)).a_day == pytest.approx(1.0)


def test_what_was_given_today_is_not_planned_any_more_but_the_other_round_and_tank_are() -> None:
    today = (due(1), due(2, walk="evening"), due(4, "a2"), due(8, feed="bug"))
    posting = Posting(TODAY, (today, (due(16),)))
    before = of(stock_after((0, posting)))
    after = of(stock_after((0, posting), (0, gave(0.5))))
    other = of(stock_after((0, posting), (0, gave(0.5, feed="bug"))))
    assert [sum(each.weeks.values()) for each in (before, after, other)] == pytest.approx([23, 22, 23])


def test_of_a_plan_that_began_days_ago_only_what_is_still_to_come_is_planned() -> None:
    posting = Posting(ago(3), tuple((due(2.0**number),) for number in range(6)))
    assert sum(of(stock_after((3, posting))).weeks.values()) == 8 + 16 + 32


def test_orders_come_with_the_most_pressing_first_and_only_where_something_runs_out() -> None:
    posting = Posting(TODAY, tuple((due(1), due(1, feed="bug"), due(1, feed="flake")) for _ in range(7)))
    stock = stock_after((0, posting), (1, Weighed("dust", 60)), (1, Weighed("bug", 30)), (1, Weighed("leaf", 5)))
    assert [each.feed for each in stock.orders] == ["bug", "dust"]


@pytest.mark.parametrize(
    ("what", "touches"),
    [
        (Delivered("dust", 1), True),
        (Opened("dust"), True),
        (Weighed("dust", 1), True),
        (Undone(1), True),
        (gave(1), False),
        (Noted("a1", "calm"), False),
    ],
)
def test_the_shelf_is_read_again_only_after_what_may_be_about_it(what: What, touches: bool) -> None:
    assert touches_shelf([Entry(2, 2, TODAY, MORNING, "Ana", what)]) is touches


def packs(*acts: tuple[int, What], keeps_days: int | None = None) -> dict[str, OpenPack]:
    """The open packs after acts, each so many days before today."""
    feed = replace(ROOM.feeds["dust"], packs=Packs(keeps_days=keeps_days))
    room = replace(ROOM, feeds={**ROOM.feeds, "dust": feed})
    listed = [Entry(seq, seq, ago(days), MORNING, "Ana", what) for seq, (days, what) in enumerate(acts, 1)]
    return open_packs(room, listed)


def test_the_pack_that_was_opened_last_is_open_with_the_date_of_its_lot() -> None:
    bought = [
        (30, Delivered("dust", 50, "A", "2027-01-31")),
        (20, Delivered("dust", 50, "B", "2027-03-31")),
        (15, Delivered("bug", 50, "A", "2027-09-30")),
    ]
    opened = packs(*bought, (10, Opened("dust", "A")), (2, Opened("dust", "B")), (5, Opened("dust", "A")))
    assert opened == {"dust": OpenPack("B", ago(2), date(2027, 3, 31))}
    assert packs(*bought, (10, Opened("dust", "A"))) == {"dust": OpenPack("A", ago(10), date(2027, 1, 31))}
    assert packs(*bought, (10, Opened("dust"))) == {"dust": OpenPack(None, ago(10), date(2027, 3, 31))}
    assert packs(*bought, (10, Opened("dust", "C"))) == {"dust": OpenPack("C", ago(10), None)}
    assert packs(*bought, (10, Opened("gone", "A"))) == {}


def test_of_two_deliveries_of_a_lot_the_newer_one_says_its_date() -> None:
    bought = [(20, Delivered("dust", 50, "A", "2027-03-31")), (30, Delivered("dust", 50, "A", "2027-01-31"))]
    assert packs(*bought, (10, Opened("dust", "A")))["dust"].use_by == date(2027, 3, 31)


def test_an_open_pack_is_used_up_by_its_date_or_the_days_it_keeps_whichever_is_sooner() -> None:
    bought = (20, Delivered("dust", 50, "A", ago(-40).isoformat()))
    assert packs(bought, (10, Opened("dust", "A")), keeps_days=30)["dust"].use_by == ago(-20)
    assert packs(bought, (10, Opened("dust", "A")), keeps_days=60)["dust"].use_by == ago(-40)
    assert packs((10, Opened("dust")), keeps_days=60)["dust"].use_by == ago(-50)


def test_a_room_takes_the_date_of_an_open_pack_and_keeps_its_own_where_none_is_known() -> None:
    own = replace(ROOM, feeds={**ROOM.feeds, "dust": replace(ROOM.feeds["dust"], best_before=ago(-9))})
    with_date = room_with_packs(own, {"dust": OpenPack("A", ago(1), ago(-5))})
    assert with_date.feeds["dust"] == replace(own.feeds["dust"], best_before=ago(-5))
    assert {name: feed for name, feed in with_date.feeds.items() if name != "dust"} == {
        name: feed for name, feed in own.feeds.items() if name != "dust"
    }
    assert room_with_packs(own, {"dust": OpenPack("A", ago(1), None)}) is own
    assert room_with_packs(own, {}) is own
