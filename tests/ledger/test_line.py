"""Whatever happens to the line and to the server, no act is lost and none is written twice."""

from __future__ import annotations

import os
import signal
from collections.abc import Iterator
from contextlib import closing, suppress
from pathlib import Path
from tempfile import TemporaryDirectory
from threading import Event, Thread

import psycopg
import pytest

from schedules.ledger import AlreadyMarked, Entry, Ledger, LedgerFault, Noted
from schedules.ledger.copies.verify import verify
from schedules.ledger.stores.opening import open_at
from schedules.ledger.stores.postgres import queries
from schedules.room.place import Server
from tests.ledger.builders import DAY, MORNING, fill, served, write
from tests.ledger.places import shared_server
from tests.ledger.proxy import Cut, Proxy, proxy_before
from tests.ledger.server import connected, own_server
from tests.ledger.test_seen import soon

PATIENCE = 0.5


@pytest.fixture
def server() -> Iterator[Server]:
    with shared_server().lent() as server:
        yield server


@pytest.fixture
def proxy(server: Server) -> Iterator[Proxy]:
    with proxy_before(server) as proxy:
        yield proxy


@pytest.fixture
def ledger(proxy: Proxy) -> Iterator[Ledger]:
    """A ledger over a line that can be cut, with one note in it."""
    with closing(open_at(proxy.server, patience=PATIENCE)) as ledger:
        note(ledger, "first")
        yield ledger


def note(ledger: Ledger, text: str, since: int | None = None) -> tuple[Entry, ...]:
    """A note, which nothing but its time tells from the same note made once more."""
    return ledger.append([Noted("a1", text)], day=DAY, at=MORNING, by="Ana", since=since)


def notes(server: Server) -> list[str]:
    """Every note there is, by another line."""
    with closing(open_at(server, create=False)) as other:
        return [entry.what.text for entry in other.everything() if isinstance(entry.what, Noted)]


@pytest.mark.parametrize("cut", ["before", "after", "silent"])
def test_an_act_whose_commit_is_cut_is_there_once_and_the_keeper_notices_nothing(
    cut: Cut, server: Server, proxy: Proxy, ledger: Ledger
) -> None:
    proxy.at_commit = cut
    made = note(ledger, "second")
    assert [entry.seq for entry in made] == [2]
    assert proxy.at_commit is None, "the commit was not cut"
    assert notes(server) == ["first", "second"]
    assert verify(server) == []


@pytest.mark.parametrize("cut", ["before", "after"])
def test_an_act_that_nobody_knows_to_be_saved_is_there_once_when_it_is_tried_again(
    cut: Cut, server: Server, proxy: Proxy, ledger: Ledger
) -> None:
    proxy.at_commit, proxy.lets_in = cut, False
    with pytest.raises(LedgerFault, match="it is not known whether it was"):
        note(ledger, "second")
    proxy.lets_in = True
    assert soon(lambda: bool(_tried(ledger, "second", since=1)))
    assert notes(server) == ["first", "second"]
    assert [entry.what for entry in note(ledger, "second")] == [Noted("a1", "second")]
    assert notes(server) == ["first", "second", "second"], "the same note made once more is another act"


def _tried(ledger: Ledger, text: str, since: int | None = None) -> tuple[Entry, ...]:
    try:
        return note(ledger, text, since)
    except LedgerFault:
        return ()


def test_a_mark_in_doubt_that_somebody_else_made_is_refused_with_their_name(
    server: Server, proxy: Proxy, ledger: Ledger
) -> None:
    proxy.at_commit, proxy.lets_in = "before", False
    with pytest.raises(LedgerFault):
        write(ledger, served(), by="Ana")
    with closing(open_at(server)) as other:
        write(other, served(), by="Ben")
    proxy.lets_in = True
    assert soon(lambda: _changed(ledger))
    with pytest.raises(AlreadyMarked, match="by Ben"):
        ledger.append([served()], day=DAY, at=MORNING, by="Ana", since=1)


def test_reading_goes_on_over_another_line_after_a_cut(proxy: Proxy, ledger: Ledger) -> None:
    proxy.cut()
    assert ledger.last_seq() == 1
    proxy.cut()
    with ledger.moment():
        assert len(ledger.read(DAY, DAY)) == 1


def test_what_others_wrote_while_the_line_was_cut_is_news(server: Server, proxy: Proxy, ledger: Ledger) -> None:
    assert not ledger.changed()
    proxy.cut()
    with closing(open_at(server)) as other:
        write(other, served(), by="Ben")
    assert soon(lambda: _changed(ledger))
    assert not ledger.changed()
    assert [entry.by for entry in ledger.after(1)] == ["Ben"]


def _changed(ledger: Ledger) -> bool:
    try:
        return ledger.changed()
    except LedgerFault:
        return False


def test_no_line_is_a_fault_that_comes_at_once_and_goes_when_the_line_is_back(proxy: Proxy, ledger: Ledger) -> None:
    proxy.lets_in = False
    proxy.cut()
    for _ in range(3):
        with pytest.raises(LedgerFault, match="no line to the server"):
            ledger.last_seq()
    proxy.lets_in = True
    assert soon(lambda: _changed(ledger))
    assert ledger.last_seq() == 1


def test_a_line_that_falls_silent_counts_as_cut(proxy: Proxy, ledger: Ledger) -> None:
    proxy.fall_silent()
    assert ledger.last_seq() == 1


def test_marks_of_others_are_heard_of_without_asking(server: Server, ledger: Ledger) -> None:
    with closing(open_at(server)) as other:
        write(other, served(), by="Ben")
        assert soon(ledger.changed)


def test_a_program_that_stops_in_the_middle_of_a_mark_holds_up_nobody_for_long(server: Server) -> None:
    """The server ends its transaction; here it is asked to do so sooner than after the usual ten seconds."""
    stopped = psycopg.connect(server.address, autocommit=True)
    with closing(stopped), closing(open_at(server, patience=5)) as patient:
        stopped.execute("SET idle_in_transaction_session_timeout = '500ms'")
        stopped.execute("BEGIN")
        stopped.execute(queries.LOCK)
        hurried = open_at(server, patience=0.05)
        with closing(hurried), pytest.raises(LedgerFault, match="another program holds the ledger"):
            note(hurried, "hurried")
        note(patient, "patient")
    assert notes(server) == ["patient"]


def test_no_note_of_three_keepers_is_lost_or_doubled_while_the_server_is_killed_again_and_again() -> None:
    """A process of the server that dies takes all others with it; then it reads its log and starts again."""
    with TemporaryDirectory(prefix="rackround-kill-") as folder, own_server(Path(folder)) as handle:
        server, end = Server(handle.get_uri()), Event()
        with closing(open_at(server)) as ledger:
            fill(ledger, 2)
        keepers = [_Keeper(server, name, end) for name in ("Ana", "Ben", "Cleo")]
        for keeper in keepers:
            keeper.start()
        for kill in range(1, 3):
            assert _get_on(keepers, kill * 15)
            _kill_a_process(server)
        end.set()
        for keeper in keepers:
            keeper.join()
        found = notes(server)
        assert sorted(text for text in found if " " in text and not text.startswith("berried")) == sorted(
            text for keeper in keepers for text in keeper.kept
        )
        assert verify(server) == []


def _get_on(keepers: list[_Keeper], count: int) -> bool:
    """Whether more than so many notes are written before long."""
    return any(soon(lambda: sum(len(each.kept) for each in keepers) > count) for _ in range(10))


def _kill_a_process(server: Server) -> None:
    """Kill the process of the server that serves a connection of ours, while that connection is open."""
    killed = False
    while not killed:
        with suppress(Exception), connected(server) as connection:  # it is starting again, or has just been killed
            os.kill(connection.info.backend_pid, signal.SIGKILL)
            killed = True


class _Keeper(Thread):
    """Writes notes one after the other, each tried until it is there."""

    def __init__(self, server: Server, name: str, end: Event) -> None:
        super().__init__(daemon=True)
        self.server, self.keeper, self.ended = server, name, end
        self.kept: list[str] = []
        self.ledger: Ledger | None = None

    def run(self) -> None:
        while not self.ended.is_set():
            self._write(f"{self.keeper} {len(self.kept)}")
        if self.ledger is not None:
            self.ledger.close()

    def _write(self, text: str) -> None:
        since = None
        while len(self.kept) < int(text.split()[1]) + 1:
            try:
                self.ledger = self.ledger or open_at(self.server, patience=1)
                self.ledger.append([Noted("a1", text)], day=DAY, at=MORNING, by=self.keeper, since=since)
                self.kept.append(text)
            except LedgerFault:
                since = 0
