"""A connection between browser and server that can be cut."""

from __future__ import annotations

import socket
import threading
from contextlib import suppress


class Proxy:
    """Passes on every connection to a port until it is cut; while it is cut, new connections are refused."""

    def __init__(self, target: int) -> None:
        self._target = target
        self._listening = socket.create_server(("127.0.0.1", 0))
        self.port: int = self._listening.getsockname()[1]
        self._open: list[socket.socket] = []
        self._cut = False
        threading.Thread(target=self._accept, daemon=True).start()

    def cut(self) -> None:
        """Let go of every connection, and of those to come."""
        self._cut = True
        for each in self._open:
            with suppress(OSError):
                each.shutdown(socket.SHUT_RDWR)
        self._open.clear()

    def mend(self) -> None:
        """Pass on again."""
        self._cut = False

    def _accept(self) -> None:
        while True:
            coming, _ = self._listening.accept()
            if self._cut:
                coming.close()
                continue
            going = socket.create_connection(("127.0.0.1", self._target))
            self._open += [coming, going]
            for source, sink in ((coming, going), (going, coming)):
                threading.Thread(target=self._pass_on, args=(source, sink), daemon=True).start()

    @staticmethod
    def _pass_on(source: socket.socket, sink: socket.socket) -> None:
        with suppress(OSError):
            while data := source.recv(65536):
                sink.sendall(data)
        for each in (source, sink):
            with suppress(OSError):
                each.shutdown(socket.SHUT_RDWR)
