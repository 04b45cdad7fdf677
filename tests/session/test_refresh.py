"""A history that takes in what was written since is the one that would be read from the start."""

from __future__ import annotations

from datetime import date, timedelta

from hypothesis import given, settings
from hypothesis import strategies as st

from schedules.history import History, history_of, refresh
from schedules.ledger import AlreadyMarked, LedgerFault, Noted, Observed, Served, Skipped, Undone, What
from schedules.ledger.stores.memory import MemoryLedger
from tests.ledger.builders import DAY, MORNING, served

TANKS = ("a1", "b2")
FEEDS = ("moss", "leaf")
DAYS = st.dates(DAY - timedelta(days=32), DAY)
WHAT = st.one_of(
    st.builds(served, st.sampled_from(TANKS), st.sampled_from(FEEDS), broke=st.sampled_from((None, "min_gap"))),
    st.builds(Skipped, st.sampled_from(TANKS), st.sampled_from(FEEDS), st.just("morning"), st.just("cloudy")),
    st.builds(Observed, st.sampled_from(TANKS), st.sampled_from(FEEDS), st.just("some")),
    st.builds(Noted, st.none() | st.sampled_from(TANKS), st.just("moulted")),
)
ACTS = st.tuples(DAYS, st.lists(WHAT, min_size=1, max_size=3) | st.integers(1, 12))


def _write(ledger: MemoryLedger, day: date, act: list[What] | int) -> None:
    drafts: list[What] = [Undone(act)] if isinstance(act, int) else act
    try:
        ledger.append(drafts, day=day, at=MORNING, by="Ana")
    except (AlreadyMarked, LedgerFault):
        return


def _answers(history: History) -> list[object]:
    days = [DAY - timedelta(days=back) for back in range(30)]
    about = [[history.about(tank, day) for day in days] for tank in TANKS]
    servings = [[history.servings(tank, feed) for feed in FEEDS] for tank in TANKS]
    last = [[history.last_day(tank, feed, DAY) for feed in FEEDS] for tank in TANKS]
    return [history.entries, history.first_ever, history.last_before, about, servings, last]


@settings(max_examples=80, deadline=None)
@given(st.lists(ACTS, max_size=12))
def test_a_refreshed_history_answers_like_one_read_anew(acts: list[tuple[date, list[What] | int]]) -> None:
    ledger = MemoryLedger()
    history = history_of(ledger, DAY)
    for day, act in acts:
        _answers(history)
        _write(ledger, day, act)
        history = refresh(history, ledger)
        assert _answers(history) == _answers(history_of(ledger, DAY))


def test_a_history_is_the_same_object_where_nothing_was_written() -> None:
    ledger = MemoryLedger()
    ledger.append([served()], day=DAY, at=MORNING, by="Ana")
    history = history_of(ledger, DAY)

    assert refresh(history, ledger) is history
    assert isinstance(history.entries[0].what, Served)
