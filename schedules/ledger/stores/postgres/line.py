"""The line to a server: opened once, and opened again by itself after it was cut.

Nobody waits long for a line. An answer that does not come within the patience counts as a cut one, and another line is
opened beside the program, which asks for it now and then.
"""

from __future__ import annotations

from concurrent.futures import Future
from contextlib import suppress
from logging import NullHandler, getLogger
from threading import Thread
from typing import Any, Final, TypeVar

import psycopg
from psycopg.abc import PQGen
from psycopg.conninfo import conninfo_to_dict

from schedules.ledger.stores.faults import fault
from schedules.ledger.stores.postgres.faults import NO_LINE, faults_of
from schedules.ledger.stores.postgres.schema import CHANNEL, SCHEMA
from schedules.room.place import Server

# The driver would print what it thinks of a cut line onto the screen; the fault says it better.
getLogger("psycopg").addHandler(NullHandler())
T = TypeVar("T")
LEAST_CONNECTING: Final = 2
"""Seconds that the driver waits for a server at least."""
BRIEFLY: Final = 0.05
"""Seconds to wait for a new line that did not come at once."""
IDLE_LIMIT: Final = "10s"
"""The server ends a transaction whose program says nothing for so long, so that it holds up nobody else."""
_DEFAULTS: Final[dict[str, Any]] = {
    "fallback_application_name": "rackround",
    "keepalives_idle": 5,
    "keepalives_interval": 3,
    "keepalives_count": 3,
    "tcp_user_timeout": 10_000,
}
"""A line that was cut is noticed within seconds, unless the address says otherwise."""
# An act is on the server's disk before it counts as saved, whatever the server is set to otherwise.
_SETTINGS: Final = """
SELECT set_config('search_path', %s, false), set_config('lock_timeout', %s, false),
    set_config('idle_in_transaction_session_timeout', %s, false), set_config('jit', 'off', false),
    CASE current_setting('synchronous_commit') WHEN 'off' THEN set_config('synchronous_commit', 'on', false) END
"""


class PatientConnection(psycopg.Connection[tuple[Any, ...]]):
    """A connection on which an answer that does not come within `patience` seconds counts as a cut line."""

    patience: float | None = None

    def wait(self, gen: PQGen[T], interval: float = 0.1, timeout: float | None = None) -> T:
        """Wait for the server as the driver does, within the patience where no other time is given."""
        if timeout is not None or self.patience is None:
            return super().wait(gen, interval, timeout)
        try:
            return super().wait(gen, interval, self.patience)
        except psycopg.errors._WaitTimeout:
            self.pgconn.finish()
            raise psycopg.OperationalError("no answer") from None


class Line:
    """The line to one server."""

    def __init__(self, server: Server, patience: float) -> None:
        self.server = server
        self.patience = patience
        self.renewed = False
        """Whether another line was opened since this was last set to False: what others said meanwhile was missed."""
        self._connection: PatientConnection | None = None
        self._coming: Future[PatientConnection] | None = None
        self._lost = False
        self._closed = False

    def open(self) -> PatientConnection:
        """The first connection; `LedgerFault` says why there is none."""
        with faults_of(self.server):
            self._connection = self._connect()
        return self._connection

    def live(self) -> PatientConnection:
        """A connection that is not known to be cut; `LedgerFault` where there is none just now."""
        if self._closed:
            raise fault(self.server, "the ledger could not be used: it was closed.")
        if self._connection is None or self._connection.closed:
            self._connection = self._another()
            self.renewed, self._lost = True, False
        return self._connection

    @property
    def cut(self) -> bool:
        """Whether the connection is known to be cut."""
        return self._connection is None or self._connection.closed

    def _another(self) -> PatientConnection:
        """Another connection, which a thread opens; only the first call after a cut waits for as long as patience."""
        if self._coming is None:
            self._coming = self._begin_connecting()
        try:
            with faults_of(self.server):
                made = self._coming.result(BRIEFLY if self._lost else self.patience)
        except TimeoutError:
            self._lost = True
            raise fault(self.server, NO_LINE) from None
        except BaseException:
            self._lost, self._coming = True, None
            raise
        self._coming = None
        return made

    def _begin_connecting(self) -> Future[PatientConnection]:
        coming: Future[PatientConnection] = Future()

        def run() -> None:
            try:
                made = self._connect()
            except BaseException as error:
                coming.set_exception(error)
            else:
                coming.set_result(made)
                if self._closed:
                    made.close()

        Thread(target=run, daemon=True).start()
        return coming

    def _connect(self) -> PatientConnection:
        known = conninfo_to_dict(self.server.address)
        others = _DEFAULTS | {"connect_timeout": max(LEAST_CONNECTING, round(self.patience))}
        made = PatientConnection.connect(
            self.server.address,
            autocommit=True,
            client_encoding="UTF8",
            **{key: value for key, value in others.items() if key not in known},
        )
        try:
            made.patience = self.patience + 1
            made.isolation_level = psycopg.IsolationLevel.READ_COMMITTED
            made.read_only = False
            with made.pipeline():
                made.execute(_SETTINGS, (f"{SCHEMA}, pg_temp", f"{max(1, round(self.patience * 1000))}ms", IDLE_LIMIT))
                made.execute(f"LISTEN {CHANNEL}")
        except BaseException:
            made.close()
            raise
        return made

    def close(self) -> None:
        """Let go of the server."""
        self._closed = True
        if self._connection is not None:
            with suppress(psycopg.Error):
                self._connection.close()
