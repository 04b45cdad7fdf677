"""The ledger as a plain list: what every store must behave like, and a store for tests and throwaway rooms."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from contextlib import AbstractContextManager, nullcontext
from datetime import date, datetime, timedelta

from schedules.ledger.admission import admitted, mark_of, written
from schedules.ledger.declaration import kind_of
from schedules.ledger.entries import AlreadyMarked, ChoreMark, Entry, LedgerFault, Posting, Served, What, tank_of
from schedules.ledger.lines import line_of
from schedules.ledger.standing import standing, undone_act


class MemoryLedger:
    """A `Ledger` that is gone when the program ends."""

    def __init__(self) -> None:
        self._entries: list[Entry] = []

    def append(
        self, what: Sequence[What], *, day: date, at: datetime, by: str | None, since: int | None = None
    ) -> tuple[Entry, ...]:
        """Add the entries of one act, all or none; see `Ledger.append`."""
        settled, at = admitted(what, day, at, by)
        there = written(self.after(since), settled, day, at, by) if since is not None else ()
        if there:
            return there
        act = len(self._entries) + 1
        for one in settled:
            self._refuse(one, day)
        made = tuple(Entry(act + number, act, day, at, by, one) for number, one in enumerate(settled))
        self._entries.extend(made)
        return made

    def _refuse(self, what: What, day: date) -> None:
        kind, mark = kind_of(what), mark_of(day, what)
        if kind.undoes is not None:
            self._refuse_undoing(kind.undoes(what))
        if mark is not None:
            for entry in standing(self._entries):
                if mark_of(entry.day, entry.what) == mark:
                    raise AlreadyMarked(entry)
        if kind.start is not None:
            same = [entry for entry in self._entries if _start(entry.what) == kind.start(what)]
            if same and not (kind_of(same[-1].what) is kind and kind.continues(what, same[-1].what)):
                raise AlreadyMarked(same[-1])

    def _refuse_undoing(self, act: int) -> None:
        undoable = [entry for entry in self._entries if entry.act == act and kind_of(entry.what).undoable]
        if not undoable:
            raise LedgerFault(f"there is no act {act} that can be undone")
        for entry in self._entries:
            if undone_act(entry) == act:
                raise AlreadyMarked(entry)

    def read(self, first: date, last: date) -> tuple[Entry, ...]:
        """Every entry about the days, and every undo of one of them; see `Ledger.read`."""
        acts = {entry.act for entry in self._entries if first <= entry.day <= last}
        return tuple(
            entry
            for entry in self._entries
            if _start(entry.what) is None and (first <= entry.day <= last or undone_act(entry) in acts)
        )

    def after(self, seq: int) -> tuple[Entry, ...]:
        """Entries added after the one numbered `seq`, postings left out."""
        return tuple(entry for entry in self._entries[max(seq, 0) :] if _start(entry.what) is None)

    def everything(self) -> Iterator[Entry]:
        """Every entry there is, postings and undos too."""
        return iter(tuple(self._entries))

    def lines(self) -> Iterator[str]:
        """The line of every entry."""
        return map(line_of, tuple(self._entries))

    def last_seq(self) -> int:
        """The number of the newest entry, 0 for an empty ledger."""
        return len(self._entries)

    def last_at(self) -> datetime | None:
        """When the newest entry was written."""
        return self._entries[-1].at if self._entries else None

    def identity(self) -> str:
        """No other list is this one."""
        return f"memory:{id(self)}"

    def changed(self) -> bool:
        """Whether another program wrote; nobody else can."""
        return False

    def _served(self) -> Iterator[tuple[tuple[str, str], date]]:
        for entry in sorted(standing(self._entries), key=lambda entry: entry.day):
            if isinstance(entry.what, Served):
                yield (entry.what.tank, entry.what.feed), entry.day

    def last_served(self, before: date) -> Mapping[tuple[str, str], date]:
        """For each (tank, feed) the last day before `before` on which it was given."""
        return {pair: day for pair, day in self._served() if day < before}

    def first_served(self) -> Mapping[tuple[str, str], date]:
        """For each (tank, feed) the first day on which it was given."""
        firsts: dict[tuple[str, str], date] = {}
        for pair, day in self._served():
            firsts.setdefault(pair, day)
        return firsts

    def last_chores(self, before: date) -> Mapping[tuple[str, str], date]:
        """For each tank ("" for none) and subject of a chore the last day before `before` on which it was marked."""
        marked = sorted(
            (entry.day, entry.what.tank or "", entry.what.subject)
            for entry in standing(self._entries)
            if isinstance(entry.what, ChoreMark) and entry.day < before
        )
        return {(tank, subject): day for day, tank, subject in marked}

    def of_kind(self, kind: str, after: date | None = None) -> tuple[Entry, ...]:
        """Standing entries of one kind about days after `after`."""
        return tuple(
            entry
            for entry in standing(self._entries)
            if kind_of(entry.what).name == kind and (after is None or entry.day > after)
        )

    def last_of_kind(self, kind: str) -> Entry | None:
        """Of a kind about no tank and no feed, the entry about the latest day."""
        found = [each for each in self._entries if kind_of(each.what).name == kind and not tank_of(each.what)]
        return max(found, key=lambda each: (each.day, each.seq), default=None)

    def added_late(self, kind: str, seq: int, day: date) -> bool:
        """Whether one of a kind about `day` or before was added or taken back since."""
        late = {each.seq for each in self._entries if kind_of(each.what).name == kind and each.day <= day}
        return any(each.seq in late or undone_act(each) in late for each in self._entries if each.seq > seq)

    def _postings(self) -> list[Posting]:
        # Of those with the same start the last one, which continues the others.
        found = {entry.what.start: entry.what for entry in self._entries if isinstance(entry.what, Posting)}
        return sorted(found.values(), key=lambda posting: posting.start)

    def posting(self, day: date) -> Posting | None:
        """The posting in force on a day."""
        found = [posting for posting in self._postings() if posting.start <= day]
        return found[-1] if found else None

    def postings(self, first: date, last: date) -> tuple[Posting, ...]:
        """The postings in force on any of the days, by start."""
        in_force = self.posting(first)
        later = [posting for posting in self._postings() if first < posting.start <= last]
        return (*([in_force] if in_force else []), *later)

    def due(self, first: date, last: date) -> tuple[Posting, ...]:
        """The postings in force, each cut to the days on which it is; see `Ledger.due`."""
        return tuple(cut(self.postings(first, last), first))

    def last_act(self, by: str | None = None) -> tuple[Entry, ...]:
        """The entries of the newest standing act that can be undone, of one keeper if given."""
        holds = [
            entry
            for entry in standing(self._entries)
            if kind_of(entry.what).undoable and (by is None or entry.by == by)
        ]
        return tuple(entry for entry in holds if entry.act == holds[-1].act)

    def moment(self) -> AbstractContextManager[None]:
        """Nobody else writes, so every moment is the same one."""
        return nullcontext()

    def close(self) -> None:
        """Nothing to let go of."""


def _start(what: What) -> date | None:
    start = kind_of(what).start
    return start(what) if start else None


def cut(postings: Sequence[Posting], first: date) -> Iterator[Posting]:
    """Postings in order of start, each without the days before `first` and those from the next one's start on."""
    for number, posting in enumerate(postings):
        later = (postings[number + 1].start - posting.start).days if number + 1 < len(postings) else None
        skipped = max(0, (first - posting.start).days)
        days = posting.days[skipped:] if later is None else posting.days[skipped : max(skipped, later)]
        yield Posting(posting.start + timedelta(days=skipped), days)
