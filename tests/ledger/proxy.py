"""A line to a server that can be cut: it listens on TCP on this machine and passes everything on, until it does not."""

from __future__ import annotations

import socket
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from select import select
from threading import Lock, Thread
from typing import Any, Literal

from psycopg.conninfo import conninfo_to_dict

from schedules.room.place import Server

Cut = Literal["before", "after", "silent"]
"""At the end of a transaction: before the server hears of it, after it has saved, or after it with no word of a cut."""
_COMMIT = b"COMMIT\0"
"""What a program says to end a transaction, and the server when it is saved (the tag of CommandComplete)."""
_PART = 1 << 16


class Proxy:
    """Passes on what a program and a server say. `server` is the server as it is reached through here."""

    def __init__(self, behind: Server) -> None:
        known = conninfo_to_dict(behind.address)
        host, port = str(known.get("host", "localhost")), int(str(known.get("port", 5432)))
        self._behind: Any = f"{host}/.s.PGSQL.{port}" if host.startswith("/") else (host, port)
        self._listening = socket.create_server(("127.0.0.1", 0))
        self._lock = Lock()
        self._open: list[socket.socket] = []
        self._silent: set[socket.socket] = set()
        self.at_commit: Cut | None = None
        """How the next transaction's end is cut; afterwards all is passed on again."""
        self.lets_in = True
        user, password = known.get("user", "postgres"), known.get("password")
        account = f"{user}:{password}" if password else user
        port = self._listening.getsockname()[1]
        self.server = Server(f"postgresql://{account}@127.0.0.1:{port}/{known['dbname']}?sslmode=disable")
        Thread(target=self._accept, daemon=True).start()

    def _accept(self) -> None:
        while True:
            try:
                program, _ = self._listening.accept()
            except OSError:
                return
            if not self.lets_in:
                program.close()
                continue
            server = socket.socket(socket.AF_UNIX if isinstance(self._behind, str) else socket.AF_INET)
            server.connect(self._behind)
            with self._lock:
                self._open += [program, server]
            Thread(target=self._pass_on, args=(program, server), daemon=True).start()

    def _pass_on(self, program: socket.socket, server: socket.socket) -> None:
        with suppress(OSError, ValueError):
            while True:
                for one in select([program, server], [], [])[0]:
                    said = one.recv(_PART)
                    if not said:
                        return self._close(program, server)
                    if program in self._silent:
                        continue
                    if one is program and _COMMIT in said and self.at_commit is not None:
                        self._cut_commit(program, server, said)
                    else:
                        (server if one is program else program).sendall(said)
        return self._close(program, server)

    def _cut_commit(self, program: socket.socket, server: socket.socket, said: bytes) -> None:
        how, self.at_commit = self.at_commit, None
        if how != "before":
            self._let_save(program, server, said)
        if how == "silent":
            self._silent.add(program)
        else:
            self._close(program, server)

    def _let_save(self, program: socket.socket, server: socket.socket, said: bytes) -> None:
        """Pass on the rest of what the program says until the server has saved; its answer is not passed on."""
        server.sendall(said)
        answer = b""
        while _COMMIT not in answer:
            for one in select([program, server], [], [])[0]:
                part = one.recv(_PART)
                if one is program:
                    server.sendall(part)
                else:
                    answer += part

    def fall_silent(self) -> None:
        """Pass on nothing more over the lines that are open, and do not say so."""
        with self._lock:
            self._silent.update(self._open)

    def cut(self) -> None:
        """Close every line that is open."""
        with self._lock:
            lines, self._open = self._open, []
        for line in lines:
            self._end(line)

    def _close(self, *lines: socket.socket) -> None:
        for line in lines:
            self._end(line)

    def _end(self, line: socket.socket) -> None:
        with suppress(OSError):
            line.shutdown(socket.SHUT_RDWR)
        line.close()

    def close(self) -> None:
        """End the proxy."""
        self._end(self._listening)
        self.cut()


@contextmanager
def proxy_before(server: Server) -> Iterator[Proxy]:
    """A proxy for as long as the body takes."""
    proxy = Proxy(server)
    try:
        yield proxy
    finally:
        proxy.close()
