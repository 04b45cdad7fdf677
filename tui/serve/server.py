"""What can be asked of the server: the page, its files, a login, and the connection behind a page."""

from __future__ import annotations

import asyncio
import json
import re
from collections.abc import AsyncIterator, Callable, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass, field
from html import escape
from pathlib import Path
from typing import Final

import textual_serve
from aiohttp import WSMsgType, web

from tui.serve.gate import FILES, Gate
from tui.serve.window import ENDED, Window

PAGE: Final = Path(__file__).parent / "page"
TERMINAL: Final = Path(textual_serve.__file__).parent / "static"
SERVED: Final[Mapping[str, tuple[Path, str]]] = {
    "page.js": (PAGE / "page.js", "text/javascript"),
    "page.css": (PAGE / "page.css", "text/css"),
    "textual.js": (TERMINAL / "js" / "textual.js", "text/javascript"),
    "xterm.css": (TERMINAL / "css" / "xterm.css", "text/css"),
    "mono.ttf": (TERMINAL / "fonts" / "RobotoMono-VariableFont_wght.ttf", "font/ttf"),
}
"""Every file that can be asked for, by its name in the address. No part of an address becomes a path."""
MOST_WINDOWS: Final = 24
"""Dashboards at once: each is a process of some 80 MB."""
KEPT_SECONDS: Final = 900.0
"""How long a dashboard goes on without a connection."""
MOST_MESSAGE: Final = 64 * 1024
"""Bytes of one message from a page: a paste is as long as that."""
TAB: Final = re.compile(r"[0-9a-f]{32}")
LOOK_SECONDS: Final = 5.0
LONGEST_PING: Final = 40

Command = Callable[[str], Sequence[str]]
"""The command that opens the dashboard for a keeper."""


@dataclass
class Pages:
    """The pages of one room.

    `keys` are the buttons below the dashboard: what each says, and what it types.
    """

    gate: Gate
    title: str
    command: Command
    keys: Sequence[tuple[str, str]]
    environment: Mapping[str, str] = field(default_factory=dict)
    kept_seconds: float = KEPT_SECONDS
    _windows: dict[tuple[str, str], Window] = field(default_factory=dict)
    _ending: set[asyncio.Task[None]] = field(default_factory=set)
    _opening: asyncio.Lock = field(default_factory=asyncio.Lock)

    def application(self) -> web.Application:
        """The application to run."""
        app = web.Application(client_max_size=MOST_MESSAGE)
        self.gate.set_up(app)
        app.router.add_get("/", self._page)
        app.router.add_get("/login", self._login_page)
        app.router.add_post("/login", self._log_in)
        app.router.add_post("/logout", self._log_out)
        app.router.add_get("/alive", self._alive)
        app.router.add_get(FILES + "{name}", self._file)
        app.router.add_get("/window/{tab}", self._connect)
        app.cleanup_ctx.append(self._looking_after)
        return app

    async def _alive(self, _request: web.Request) -> web.Response:
        return web.Response(text="yes")

    async def _file(self, request: web.Request) -> web.Response:
        found = SERVED.get(request.match_info["name"])
        if found is None:
            raise web.HTTPNotFound
        path, kind = found
        return web.Response(body=await asyncio.to_thread(path.read_bytes), content_type=kind)

    async def _page(self, request: web.Request) -> web.Response:
        login = await self.gate.login_of(request)
        assert login is not None
        keys = "".join(f'<button data-key="{escape(typed)}">{escape(says)}</button>' for says, typed in self.keys)
        out = '<form method="post" action="/logout"><button>log out</button></form>' if self.gate.asks else ""
        return self._filled("window.html", title=escape(self.title), keeper=escape(login[0]), keys=keys, out=out)

    async def _login_page(self, _request: web.Request) -> web.Response:
        if not self.gate.asks:
            raise web.HTTPSeeOther("/")
        return self._login("")

    def _login(self, fault: str, chosen: str = "") -> web.Response:
        names = "".join(
            f'<label><input type="radio" name="keeper" value="{escape(name)}" required'
            f"{' checked' if name == chosen else ''}> {escape(name)}</label>"
            for name in self.gate.hashes
        )
        page = self._filled("login.html", title=escape(self.title), names=names, fault=escape(fault))
        page.set_status(403 if fault else 200)
        return page

    async def _log_in(self, request: web.Request) -> web.StreamResponse:
        form = await request.post()
        keeper, code = str(form.get("keeper", "")), str(form.get("code", ""))
        fault = await self.gate.log_in(request, keeper, code)
        if fault:
            return self._login(fault, keeper)
        raise web.HTTPSeeOther("/")

    async def _log_out(self, request: web.Request) -> web.StreamResponse:
        login = await self.gate.login_of(request)
        await self.gate.log_out(request)
        for key in [key for key in self._windows if login is not None and key[0] == login[1]]:
            # Not waited for: its page may say goodbye only after this answer.
            ending = asyncio.create_task(self._windows.pop(key).stop())
            self._ending.add(ending)
            ending.add_done_callback(self._ending.discard)
        raise web.HTTPSeeOther("/login")

    def _filled(self, name: str, **values: str) -> web.Response:
        text = (PAGE / name).read_text("utf-8")
        for key, value in values.items():
            text = text.replace("{" + key + "}", value)
        return web.Response(text=text, content_type="text/html")

    async def _connect(self, request: web.Request) -> web.StreamResponse:
        tab = request.match_info["tab"]
        login = await self.gate.login_of(request)
        if login is None or not TAB.fullmatch(tab):
            raise web.HTTPBadRequest(text="no such window")
        size = _number(request.query.get("width"), 80), _number(request.query.get("height"), 24)
        socket = web.WebSocketResponse(heartbeat=15, max_msg_size=MOST_MESSAGE)
        await socket.prepare(request)
        window = await self._window(login, tab, size)
        if window is None:
            await socket.close(code=ENDED, message=b"too many dashboards are open")
            return socket
        try:
            async with asyncio.timeout(self.gate.seconds_left(login[1])):
                await window.attach(socket, *size)
                await _pass_on(socket, window)
        except TimeoutError:
            await socket.close(code=ENDED, message=b"the login has ended")
        finally:
            window.detach(socket)
        return socket

    async def _window(self, login: tuple[str, str], tab: str, size: tuple[int, int]) -> Window | None:
        """The dashboard of a page: the one it had, or a new one; None where too many are open."""
        keeper, key = login[0], (login[1], tab)
        async with self._opening:
            known = self._windows.get(key)
            if known is not None and not known.ended.is_set():
                return known
            await self._let_go()
            if len(self._windows) >= MOST_WINDOWS:
                return None
            window = Window(self.command(keeper), self.environment)
            await window.start(*size)
            self._windows[key] = window
            return window

    async def _let_go(self) -> None:
        """Forget dashboards that have ended, and close those that nobody has looked at for long."""
        now = asyncio.get_running_loop().time()
        for key, window in list(self._windows.items()):
            lost = window.lost_at is not None and now - window.lost_at > self.kept_seconds
            if lost or window.ended.is_set():
                del self._windows[key]
                await window.stop()

    async def _looking_after(self, _app: web.Application) -> AsyncIterator[None]:
        """While the server runs, let go now and then; at its end close every dashboard."""
        task = asyncio.create_task(self._look())
        yield
        task.cancel()
        with suppress(asyncio.CancelledError):
            await task
        await asyncio.gather(*(window.stop() for window in self._windows.values()), *self._ending)

    async def _look(self) -> None:
        while True:
            await asyncio.sleep(min(LOOK_SECONDS, self.kept_seconds))
            async with self._opening:
                await self._let_go()


def _number(text: str | None, usual: int) -> int:
    return int(text) if text is not None and text.isascii() and text.isdigit() and len(text) < 5 else usual


class NotUnderstood(Exception):
    """A message that no page of ours sends."""


async def _pass_on(socket: web.WebSocketResponse, window: Window) -> None:
    """Pass on what a page sends until it is gone. A message of another form ends the connection."""
    async for message in socket:
        try:
            answer = await _take(message.data if message.type == WSMsgType.TEXT else "", window)
        except NotUnderstood:
            await socket.close(code=1008, message=b"not understood")
            return
        if answer:
            await socket.send_str(answer)


async def _take(text: str, window: Window) -> str:
    """Do what a message asks for; what is to be answered, empty for nothing."""
    try:
        message = json.loads(text)
    except (ValueError, RecursionError):
        raise NotUnderstood from None
    match message:
        case ["stdin", str(typed)]:
            await window.type(typed)
        case ["resize", {"width": int(width), "height": int(height)}]:
            await window.resize(width, height)
        case ["ping", str(token)] if len(token) <= LONGEST_PING:
            return json.dumps(["pong", token])
        case ["focus"] | ["blur"]:
            pass
        case _:
            raise NotUnderstood
    return ""
