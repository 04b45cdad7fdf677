"""One dashboard that runs for a page in a browser, and goes on for a while where the connection is lost."""

from __future__ import annotations

import asyncio
import json
import os
from collections.abc import Mapping, Sequence
from contextlib import suppress
from typing import Final

from aiohttp import web

READY: Final = b"__GANGLION__\n"
"""What Textual's driver for browsers prints before its first packet."""
PRELUDE_LINES: Final = 20
DATA, META = b"D", b"M"
MOST_COLUMNS, MOST_ROWS = 300, 120
FEWEST_COLUMNS, FEWEST_ROWS = 20, 8
STOP_SECONDS: Final = 5.0
"""How long a dashboard may take to end by itself."""
NUDGE_SECONDS: Final = 0.15
"""Between two sizes, so that the dashboard draws everything for a page that has nothing yet."""
TERMINAL_MODES: Final = b"\x1b[?1049h\x1b[?25l\x1b[?1000h\x1b[?1003h\x1b[?1015h\x1b[?1006h\x1b[?2004h"
"""What the driver asked of the terminal when it began: other screen, no cursor, mouse, pastes in brackets."""
ENDED: Final = 4000
"""Close code of a connection whose dashboard was closed; any other end is a lost connection."""
TAKEN_OVER: Final = 4001
"""Close code of a connection in whose place the same page opened another."""


class Window:
    """A running dashboard, attached to at most one connection.

    What comes from the connection goes in as it comes, once. What was typed while nobody was attached is not kept.
    """

    def __init__(self, command: Sequence[str], environment: Mapping[str, str]) -> None:
        self._command = tuple(command)
        self._environment = dict(environment)
        self._process: asyncio.subprocess.Process | None = None
        self._reader: asyncio.Task[None] | None = None
        self._socket: web.WebSocketResponse | None = None
        self._size = (80, 24)
        self.ended = asyncio.Event()
        self.lost_at: float | None = None
        """Since when (seconds of the loop's clock) nobody is attached; None while somebody is."""

    async def start(self, width: int, height: int) -> None:
        """Start the dashboard in a size. The command is run as it is: no shell reads it."""
        self._size = clamped(width, height)
        environment = {
            **os.environ,
            **self._environment,
            "TEXTUAL_DRIVER": "textual.drivers.web_driver:WebDriver",
            "TEXTUAL_COLOR_SYSTEM": "truecolor",
            "COLUMNS": str(self._size[0]),
            "ROWS": str(self._size[1]),
        }
        pipe = asyncio.subprocess.PIPE
        self._process = await asyncio.create_subprocess_exec(
            *self._command, stdin=pipe, stdout=pipe, stderr=asyncio.subprocess.DEVNULL, env=environment
        )
        self._reader = asyncio.create_task(self._read())

    async def attach(self, socket: web.WebSocketResponse, width: int, height: int) -> None:
        """Show the dashboard on a connection, instead of the one it had; all of it is drawn again."""
        before, self._socket, self.lost_at = self._socket, socket, None
        if before is not None:
            await before.close(code=TAKEN_OVER)
        await self._show(TERMINAL_MODES)
        wide, high = clamped(width, height)
        await self.resize(wide, high - 1)
        await asyncio.sleep(NUDGE_SECONDS)
        await self.resize(wide, high)

    def detach(self, socket: web.WebSocketResponse) -> None:
        """The connection is gone; the dashboard goes on."""
        if self._socket is socket:
            self._socket = None
            self.lost_at = asyncio.get_running_loop().time()

    async def type(self, text: str) -> None:
        """Hand over what was typed or tapped."""
        await self._send(DATA, text.encode("utf-8", "replace"))

    async def resize(self, width: int, height: int) -> None:
        """Take another size."""
        self._size = clamped(width, height)
        await self._send_meta({"type": "resize", "width": self._size[0], "height": self._size[1]})

    async def stop(self) -> None:
        """Ask the dashboard to close, and end it where it does not."""
        process = self._process
        if process is None:
            return
        if process.returncode is None:
            await self._send_meta({"type": "quit"})
            try:
                await asyncio.wait_for(process.wait(), STOP_SECONDS)
            except TimeoutError:
                with suppress(ProcessLookupError):
                    process.terminate()
                await process.wait()
        if self._reader is not None:
            await self._reader

    async def _send_meta(self, message: Mapping[str, object]) -> None:
        await self._send(META, json.dumps(message).encode())

    async def _send(self, kind: bytes, payload: bytes) -> None:
        process = self._process
        if process is None or process.stdin is None or process.returncode is not None:
            return
        with suppress(ConnectionError, RuntimeError):
            process.stdin.write(kind + len(payload).to_bytes(4, "big") + payload)
            await process.stdin.drain()

    async def _read(self) -> None:
        """Pass on what the dashboard draws until it ends. Its other requests (files, addresses) are dropped."""
        assert self._process is not None
        stdout = self._process.stdout
        assert stdout is not None
        with suppress(asyncio.IncompleteReadError, ConnectionError):
            for _ in range(PRELUDE_LINES):
                if await stdout.readline() in (READY, b""):
                    break
            while True:
                head = await stdout.readexactly(5)
                payload = await stdout.readexactly(int.from_bytes(head[1:], "big"))
                if head[:1] == DATA:
                    await self._show(payload)
        await self._process.wait()
        self.ended.set()
        if self._socket is not None:
            await self._socket.close(code=ENDED)

    async def _show(self, payload: bytes) -> None:
        socket = self._socket
        if socket is not None and not socket.closed:
            with suppress(ConnectionError, RuntimeError):
                await socket.send_bytes(payload)


def clamped(width: int, height: int) -> tuple[int, int]:
    """A size as a terminal may have it."""
    return (
        max(FEWEST_COLUMNS, min(MOST_COLUMNS, width)),
        max(FEWEST_ROWS, min(MOST_ROWS, height)),
    )
