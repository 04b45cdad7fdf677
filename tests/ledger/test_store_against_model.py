"""Every store behaves like the plain list, whatever is asked of it and in whatever order."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from contextlib import ExitStack
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from typing import Any
from zoneinfo import ZoneInfo

from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, precondition, rule

from schedules.history import history_of, refresh
from schedules.ledger import (
    AlreadyMarked,
    ChoreMark,
    Entry,
    Ledger,
    LedgerFault,
    PostedServing,
    Posting,
    Reason,
    Served,
    Skipped,
    Undone,
    What,
)
from schedules.ledger.copies.verify import verify
from schedules.ledger.stores.memory import MemoryLedger
from schedules.ledger.stores.opening import open_at
from tests.ledger.builders import CENSUSES, DAY, DAYS, DUE, ENTRIES, MORNING, POSTINGS, served
from tests.ledger.places import places

KEEPERS = st.sampled_from(("Ana", "Ben", None))
FEW = st.sampled_from((served(), served(amount=1.0), Skipped("a1", "moss", "morning", Reason("min_gap"))))
TIMES = st.datetimes(timezones=st.sampled_from((UTC, ZoneInfo("Asia/Kathmandu"))))


def _outcome(ask: Callable[[], Any]) -> Any:
    """What came of it: the answer, who was first, or that it was refused."""
    try:
        return ask()
    except AlreadyMarked as error:
        return ("already marked", error.winner)
    except LedgerFault:
        return "refused"


def _same_serving(one: What, day: date, entry: Entry) -> bool:
    """Whether both settle the same: one feed, one tank, one round, neither as an extra; or one chore at one place."""
    other = entry.what
    if isinstance(one, ChoreMark) and isinstance(other, ChoreMark):
        return (day, one.chore, one.tank, one.rack) == (entry.day, other.chore, other.tank, other.rack)
    if not isinstance(one, Served | Skipped) or not isinstance(other, Served | Skipped) or day != entry.day:
        return False
    if any(isinstance(each, Served) and each.broke is not None for each in (one, other)):
        return False
    return (one.tank, one.feed, one.round) == (other.tank, other.feed, other.round)


class StoreAndModel(RuleBasedStateMachine):
    """Two connections to one ledger, and a list."""

    store = "file"

    @initialize()
    def begin(self) -> None:
        self.lent = ExitStack()
        self.place = self.lent.enter_context(places(self.store))()
        self.one: Ledger = open_at(self.place)
        self.other: Ledger = open_at(self.place)
        self.model = MemoryLedger()
        self.history = history_of(self.one, DAY, 3, 2)

    def _expected(self, what: Sequence[What], day: date) -> Entry | None:
        """The entry that a mark or an undo meets, by a rule written out here and shared with no store."""
        entries = list(self.model.everything())
        undone = {entry.what.act for entry in entries if isinstance(entry.what, Undone)}
        for one in what:
            for entry in entries:
                same_act = isinstance(one, Undone) and entry.what == one
                if same_act or (entry.act not in undone and _same_serving(one, day, entry)):
                    return entry
        return None

    def _both(self, what: Sequence[What], day: date, at: datetime, by: str | None, second: bool) -> None:
        store: Ledger = self.other if second else self.one
        met = self._expected(what, day)
        expected = _outcome(lambda: self.model.append(what, day=day, at=at, by=by))
        assert _outcome(lambda: store.append(what, day=day, at=at, by=by)) == expected
        if not any(isinstance(one, Posting) for one in what) and expected != "refused":
            assert (expected[1] if expected[:1] == ("already marked",) else None) == met

    @rule(what=st.lists(ENTRIES, max_size=4), day=DAYS, at=TIMES, by=KEEPERS, second=st.booleans())
    def mark(self, what: list[What], day: date, at: datetime, by: str | None, second: bool) -> None:
        self._both(what, day, at, by, second)

    @rule(posting=POSTINGS, day=DAYS, at=TIMES, second=st.booleans())
    def post(self, posting: Posting, day: date, at: datetime, second: bool) -> None:
        self._both([posting], day, at, None, second)

    @rule(what=FEW, second=st.booleans(), by=KEEPERS)
    def mark_one_of_few(self, what: What, second: bool, by: str | None) -> None:
        self._both([what], DAY, MORNING, by, second)

    @rule(what=FEW, second=st.booleans(), by=KEEPERS)
    def mark_undo_and_mark_one_of_few(self, what: What, second: bool, by: str | None) -> None:
        self._both([what], DAY, MORNING, by, second)
        found = [entry.act for entry in self.model.read(DAY, DAY) if _same_serving(what, DAY, entry)]
        if found:
            self._both([Undone(found[-1])], DAY, MORNING, by, not second)
            self._both([what], DAY, MORNING, by, second)

    @rule(act=st.integers(-1, 40), day=DAYS, at=TIMES, by=KEEPERS, second=st.booleans())
    def undo(self, act: int, day: date, at: datetime, by: str | None, second: bool) -> None:
        self._both([Undone(act)], day, at, by, second)

    @rule(by=KEEPERS, day=DAYS)
    def undo_the_last(self, by: str | None, day: date) -> None:
        last = self.model.last_act(by)
        if last:
            self._both([Undone(last[0].act)], day, MORNING, by, False)

    @precondition(lambda self: any(isinstance(entry.what, Posting) for entry in self.model.everything()))
    @rule(more=st.lists(st.lists(DUE, max_size=2).map(tuple), max_size=2), data=st.data(), second=st.booleans())
    def post_more_days(self, more: list[tuple[PostedServing, ...]], data: st.DataObject, second: bool) -> None:
        known = [entry.what for entry in self.model.everything() if isinstance(entry.what, Posting)]
        posting = data.draw(st.sampled_from(known))
        self._both([replace(posting, days=(*posting.days, *more))], DAY, MORNING, None, second)

    @rule(census=CENSUSES, day=DAYS, second=st.booleans())
    def sum_up(self, census: What, day: date, second: bool) -> None:
        self._both([census], day, MORNING, None, second)

    @rule(what=st.lists(ENTRIES, min_size=1, max_size=2), posting=POSTINGS)
    def mix_a_plan_with_marks(self, what: list[What], posting: Posting) -> None:
        self._both([*what, posting], DAY, MORNING, None, False)

    @rule()
    def open_again(self) -> None:
        self.one.close()
        self.one = open_at(self.place)

    @rule(first=DAYS, days=st.integers(0, 6))
    def ask(self, first: date, days: int) -> None:
        last = first + timedelta(days=days)
        for of in (self.one, self.other):
            assert of.read(first, last) == self.model.read(first, last)
            assert of.postings(first, last) == self.model.postings(first, last)
            assert of.due(first, last) == self.model.due(first, last)
            assert of.posting(first) == self.model.posting(first)
            assert dict(of.last_served(first)) == self.model.last_served(first)
            assert dict(of.last_chores(first)) == self.model.last_chores(first)
            assert dict(of.first_served()) == self.model.first_served()
            for kind in ("sighting", "served"):
                assert of.of_kind(kind) == self.model.of_kind(kind)
                assert of.of_kind(kind, first) == self.model.of_kind(kind, first)
                assert of.added_late(kind, days, first) == self.model.added_late(kind, days, first)
            assert of.last_of_kind("census") == self.model.last_of_kind("census")

    @rule(seq=st.integers(-1, 30), by=KEEPERS)
    def ask_for_the_newest(self, seq: int, by: str | None) -> None:
        assert self.one.after(seq) == self.model.after(seq)
        assert self.one.last_seq() == self.model.last_seq()
        assert self.one.last_at() == self.model.last_at()
        assert self.one.last_act(by) == self.model.last_act(by)

    @rule()
    def look_again(self) -> None:
        self.history = refresh(self.history, self.other)
        assert self.history == history_of(self.model, DAY, 3, 2)

    @invariant()
    def all_is_kept(self) -> None:
        if hasattr(self, "model"):
            assert list(self.other.everything()) == list(self.model.everything())

    def teardown(self) -> None:
        if hasattr(self, "model"):
            self.one.close()
            self.other.close()
            assert verify(self.place) == []
            self.lent.close()


StoreAndModel.TestCase.settings = settings(max_examples=40, stateful_step_count=25, deadline=None)
test_the_file_behaves_like_the_list = StoreAndModel.TestCase


class ServerAndModel(StoreAndModel):
    """The same on a server."""

    store = "server"


ServerAndModel.TestCase.settings = settings(max_examples=15, stateful_step_count=25, deadline=None)
test_the_server_behaves_like_the_list = ServerAndModel.TestCase
