"""A running server in front of a stand-in for the dashboard, and a browser that speaks HTTP alone."""

from __future__ import annotations

import sys
from collections.abc import AsyncIterator, Sequence
from contextlib import asynccontextmanager
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import pytest
from aiohttp import ClientResponse, ClientSession, ClientWebSocketResponse, CookieJar, web

from tui.serve.gate import Gate
from tui.serve.passcodes import hashed
from tui.serve.server import Pages

STAND_IN = Path(__file__).with_name("dashboard.py")
CODES = {"Mara": "482913", "Ben": "719204"}
HASHES = {name: hashed(code) for name, code in CODES.items()}
SIZE = "?width=90&height=30"
TAB = "0123456789abcdef" * 2


@dataclass
class Browser:
    """One browser: its cookies, and the pages it asks for."""

    session: ClientSession
    base: str
    log: list[str]
    headers: dict[str, str] = field(default_factory=dict)

    async def get(self, path: str, **more: Any) -> ClientResponse:
        response = await self.session.get(self.base + path, allow_redirects=False, **more)
        await response.read()
        return response

    async def post(self, path: str, data: dict[str, str] | None = None, **headers: str) -> ClientResponse:
        sent = {"Origin": self.base} | headers
        response = await self.session.post(self.base + path, data=data, headers=sent, allow_redirects=False)
        await response.read()
        return response

    async def log_in(self, keeper: str = "Mara", code: str | None = None) -> ClientResponse:
        return await self.post("/login", {"keeper": keeper, "code": CODES[keeper] if code is None else code})

    async def connect(self, tab: str = TAB, size: str = SIZE, **headers: str) -> ClientWebSocketResponse:
        return await self.session.ws_connect(f"{self.base}/window/{tab}{size}", headers={"Origin": self.base} | headers)


class Running:
    """A running server; `browsers` opens browsers to it."""

    def __init__(self, port: int, log: list[str], pages: Pages) -> None:
        self.base = f"http://localhost:{port}"
        self.log = log
        self.pages = pages
        self._sessions: list[ClientSession] = []

    def browser(self) -> Browser:
        session = ClientSession(cookie_jar=CookieJar(unsafe=True))
        self._sessions.append(session)
        return Browser(session, self.base, self.log)

    async def close(self) -> None:
        for session in self._sessions:
            await session.close()


@asynccontextmanager
async def running(hashes: dict[str, str], **more: Any) -> AsyncIterator[Running]:
    """A server for a while."""
    log: list[str] = []
    gate = Gate(frozenset(("localhost",)), hashes, "Mara", say=log.append)

    def command(keeper: str) -> Sequence[str]:
        return [sys.executable, str(STAND_IN), keeper, "; echo $HOME"]

    pages = Pages(gate, "Cellar <by> the stairs", command, [("done (space)", " "), ("back", "\x1b")], **more)
    runner = web.AppRunner(pages.application())
    await runner.setup()
    site = web.TCPSite(runner, "localhost", 0)
    await site.start()
    found = Running(runner.addresses[0][1], log, pages)
    try:
        yield found
    finally:
        await found.close()
        await runner.cleanup()


@pytest.fixture
async def server() -> AsyncIterator[Running]:
    async with running(HASHES) as found:
        yield found


@pytest.fixture
async def browser(server: Running) -> Browser:
    return server.browser()
