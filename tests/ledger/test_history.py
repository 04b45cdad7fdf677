"""What holds now, against the plainest way of working it out."""

from __future__ import annotations

from contextlib import suppress
from datetime import date, timedelta

from hypothesis import given, settings
from hypothesis import strategies as st

from schedules.history import LOOK_BACK_DAYS, History, history_of, looking_ahead, refresh
from schedules.ledger import AlreadyMarked, Entry, Ledger, LedgerFault, Posting, Reason, Served, Skipped, Undone, What
from schedules.ledger.standing import standing
from schedules.ledger.stores.memory import MemoryLedger
from tests.ledger.builders import DAY, DAYS, ENTRIES, FEEDS, MORNING, NAMES, POSTINGS, due, served, write

TANKS = ("a1", "b2", "ö-3")
STEPS = st.lists(st.tuples(ENTRIES | POSTINGS | st.builds(Undone, st.integers(1, 12)), DAYS), max_size=15)


def _try(ledger: Ledger, what: What, day: date) -> None:
    with suppress(AlreadyMarked, LedgerFault):
        ledger.append([what], day=day, at=MORNING, by="Ana")


def _ledger(steps: list[tuple[What, date]]) -> MemoryLedger:
    ledger = MemoryLedger()
    for what, day in steps:
        _try(ledger, what, day)
    return ledger


def _holds(ledger: MemoryLedger) -> list[Entry]:
    entries = list(ledger.everything())
    undone = [entry.what.act for entry in entries if isinstance(entry.what, Undone)]
    return [entry for entry in entries if entry.act not in undone and not isinstance(entry.what, Undone)]


def _looked_up(history: History) -> list[object]:
    """Everything that a history can be asked about some tanks."""
    by_day = [(history.about(tank, day), history.due_in(tank, day)) for tank in TANKS for day in history.days()]
    return [*by_day, *(history.servings(tank, feed) for tank in TANKS for feed in ("moss", "leaf"))]


@settings(max_examples=40, deadline=None)
@given(steps=STEPS)
def test_what_stands_is_what_was_neither_undone_nor_an_undo(steps: list[tuple[What, date]]) -> None:
    ledger = _ledger(steps)
    assert list(standing(ledger.everything())) == _holds(ledger)


@settings(max_examples=40, deadline=None)
@given(steps=STEPS, tank=NAMES, feed=FEEDS, before=DAYS, back=st.integers(0, 6))
def test_the_last_day_is_the_latest_serving_before_however_far_back(
    steps: list[tuple[What, date]], tank: str, feed: str, before: date, back: int
) -> None:
    ledger = _ledger(steps)
    history = history_of(ledger, DAY, look_back=back, ahead=10)
    before = max(before, history.first)
    days = [
        entry.day
        for entry in _holds(ledger)
        if isinstance(entry.what, Served) and (entry.what.tank, entry.what.feed) == (tank, feed) and entry.day < before
    ]
    assert history.last_day(tank, feed, before) == max(days, default=None)


@settings(max_examples=40, deadline=None)
@given(steps=STEPS, back=st.integers(0, 6), day=DAYS)
def test_what_is_due_is_what_the_latest_posting_by_then_says(
    steps: list[tuple[What, date]], back: int, day: date
) -> None:
    ledger = _ledger(steps)
    history = history_of(ledger, DAY, look_back=back, ahead=10)
    day = max(day, history.first)
    postings = [entry.what for entry in _holds(ledger) if isinstance(entry.what, Posting) and entry.what.start <= day]
    latest = max(postings, key=lambda posting: (posting.start, len(posting.days)), default=None)
    assert history.due(day) == (latest.due(day) if latest else ())


@settings(max_examples=40, deadline=None)
@given(steps=STEPS, tank=NAMES, day=DAYS)
def test_what_is_told_of_a_tank_and_a_day_is_what_was_written_about_them(
    steps: list[tuple[What, date]], tank: str, day: date
) -> None:
    ledger = _ledger(steps)
    history = history_of(ledger, DAY, look_back=10, ahead=10)
    expected = [entry for entry in _holds(ledger) if entry.day == day and getattr(entry.what, "tank", None) == tank]
    assert list(history.about(tank, day)) == expected
    assert [entry for entry, _ in history.served_on(tank, day)] == [
        entry for entry in expected if isinstance(entry.what, Served)
    ]
    assert history.part_on(tank, day) == sum(entry.what.part for entry in expected if isinstance(entry.what, Served))


@settings(max_examples=40, deadline=None)
@given(before=STEPS, since=STEPS, back=st.integers(0, 6))
def test_a_history_brought_up_to_date_is_the_history_read_again(
    before: list[tuple[What, date]], since: list[tuple[What, date]], back: int
) -> None:
    ledger = _ledger(before)
    history = history_of(ledger, DAY, look_back=back)
    _looked_up(history)
    for what, day in since:
        _try(ledger, what, day)
    again = history_of(ledger, DAY, look_back=back)
    refreshed = refresh(history, ledger)
    assert refreshed == again
    assert _looked_up(refreshed) == _looked_up(again)


@settings(max_examples=40, deadline=None)
@given(before=STEPS, since=STEPS, back=st.integers(0, 6), ahead=st.integers(0, 8))
def test_a_history_that_looks_ahead_is_the_history_of_those_days_read_again(
    before: list[tuple[What, date]], since: list[tuple[What, date]], back: int, ahead: int
) -> None:
    ledger = _ledger(before)
    history = history_of(ledger, DAY, look_back=back)
    for what, day in since:
        _try(ledger, what, day)
    again = history_of(ledger, DAY, look_back=back, ahead=ahead)
    further = looking_ahead(history, ledger, ahead)
    assert further == again
    assert _looked_up(further) == _looked_up(again)


def test_a_history_to_which_nothing_was_added_stays_the_same_one() -> None:
    ledger = MemoryLedger()
    write(ledger, served())
    history = history_of(ledger, DAY)
    assert refresh(history, ledger) is history


def test_an_undo_made_on_a_later_day_takes_the_serving_out() -> None:
    ledger = MemoryLedger()
    made = write(ledger, served(), day=DAY - timedelta(days=3))
    write(ledger, Undone(made), day=DAY)
    history = history_of(ledger, DAY - timedelta(days=1), look_back=5)
    assert history.entries == ()
    assert history.last_day("a1", "moss", DAY) is None


def test_what_was_due_stays_due_when_nobody_opened_the_program() -> None:
    ledger = MemoryLedger()
    write(ledger, Posting(DAY, ((due("a1"),), (due("b2"),), (due("c3"),))), by=None)
    write(ledger, Posting(DAY + timedelta(days=2), ((due("d4"),),)), by=None, day=DAY + timedelta(days=2))
    history = history_of(ledger, DAY + timedelta(days=3))
    assert [due.tank for number in range(4) for due in history.due(DAY + timedelta(days=number))] == ["a1", "b2", "d4"]


def test_a_look_far_back_still_knows_the_first_and_last_servings() -> None:
    ledger = MemoryLedger()
    long_ago = DAY - timedelta(days=4000)
    write(ledger, served(), day=long_ago)
    write(
        ledger, Skipped("a1", "moss", "morning", Reason.other("fasting")), day=DAY - timedelta(days=LOOK_BACK_DAYS + 1)
    )
    history: History = history_of(ledger, DAY)
    assert history.last_day("a1", "moss", DAY) == long_ago
    assert history.first_ever == {("a1", "moss"): long_ago}
    assert history.entries == ()
