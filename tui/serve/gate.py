"""Who may ask: the right host and origin, a keeper who logged in, not too many tries. No dashboard is known here."""

from __future__ import annotations

import asyncio
import secrets
from collections.abc import Callable, Collection, Mapping
from dataclasses import dataclass, field
from typing import Final
from urllib.parse import urlsplit

import aiohttp_session
from aiohttp import web
from aiohttp.typedefs import Handler, Middleware
from aiohttp_session.cookie_storage import EncryptedCookieStorage
from cryptography.fernet import Fernet
from limits import RateLimitItemPerHour, RateLimitItemPerMinute
from limits.storage import MemoryStorage
from limits.strategies import MovingWindowRateLimiter

from tui.serve.passcodes import is_passcode

LOGIN_SECONDS: Final = 12 * 3600
"""A login ends after a day in the room."""
TRIES: Final = (RateLimitItemPerMinute(5), RateLimitItemPerHour(20))
"""Wrong passcodes for one keeper, from one address; of all addresses together five times as many."""
ALL_TRIES: Final = (RateLimitItemPerMinute(25), RateLimitItemPerHour(100))
COOKIE: Final = "rackround"
OPEN_PATHS: Final = frozenset(("/login", "/alive"))
"""What may be asked before a login, besides the files of the page."""
FILES: Final = "/files/"
HEADERS: Final[Mapping[str, str]] = {
    "Content-Security-Policy": (
        "default-src 'none'; script-src 'self'; style-src 'self' 'unsafe-inline'; font-src 'self'; connect-src 'self'; "
        "img-src 'self' data:; form-action 'self'; frame-ancestors 'none'; base-uri 'none'"
    ),
    "X-Content-Type-Options": "nosniff",
    # With "no-referrer" a browser would hide the origin of its own form from us.
    "Referrer-Policy": "same-origin",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Cache-Control": "no-store",
}


@dataclass
class Gate:
    """Logins of one running server.

    `hosts` are the names and addresses by which it may be asked (a page of another name that points here is refused).
    Without `hashes` nobody logs in, and `keeper` acts: on the own machine only.
    """

    hosts: frozenset[str]
    hashes: Mapping[str, str]
    keeper: str
    secure: bool = False
    say: Callable[[str], None] = lambda _: None
    _logins: dict[str, float] = field(default_factory=dict)
    _limiter: MovingWindowRateLimiter = field(default_factory=lambda: MovingWindowRateLimiter(MemoryStorage()))

    def set_up(self, app: web.Application) -> None:
        """Stand before everything that the application answers."""
        storage = EncryptedCookieStorage(
            Fernet(Fernet.generate_key()),
            cookie_name=COOKIE,
            max_age=LOGIN_SECONDS,
            httponly=True,
            samesite="Strict",
            secure=self.secure,
        )
        app.middlewares.append(self._headers())
        app.middlewares.append(self._same_site())
        aiohttp_session.setup(app, storage)
        app.middlewares.append(self._logged_in())

    @property
    def asks(self) -> bool:
        """Whether a passcode is asked for."""
        return bool(self.hashes)

    async def log_in(self, request: web.Request, keeper: str, code: str) -> str:
        """Log a keeper in; what was wrong in words, empty where nothing was."""
        keys = ((TRIES, f"{keeper}@{request.remote}"), (ALL_TRIES, keeper))
        if not all(self._limiter.test(limit, key) for limits, key in keys for limit in limits):
            self.say(f"too many wrong passcodes for {keeper} from {request.remote}")
            return "Too many wrong passcodes. Wait some minutes."
        if not await asyncio.to_thread(is_passcode, self.hashes, keeper, code):
            for limits, key in keys:
                for limit in limits:
                    self._limiter.hit(limit, key)
            self.say(f"wrong passcode for {keeper} from {request.remote}")
            return "This is not the passcode."
        session = await aiohttp_session.new_session(request)
        session["keeper"], session["login"] = keeper, secrets.token_hex(16)
        self._logins[session["login"]] = self._now() + LOGIN_SECONDS
        self.say(f"{keeper} logged in from {request.remote}")
        return ""

    async def log_out(self, request: web.Request) -> None:
        """End a login, on the server too: a copy of the cookie is worth nothing."""
        session = await aiohttp_session.get_session(request)
        self._logins.pop(str(session.get("login")), None)
        session.invalidate()

    async def login_of(self, request: web.Request) -> tuple[str, str] | None:
        """The keeper who asks, and the id of the login; None where nobody logged in."""
        if not self.asks:
            return self.keeper, "this machine"
        session = await aiohttp_session.get_session(request)
        login = str(session.get("login"))
        keeper = str(session.get("keeper"))
        if self._logins.get(login, 0.0) <= self._now() or keeper not in self.hashes:
            self._logins.pop(login, None)
            return None
        return keeper, login

    def seconds_left(self, login: str) -> float:
        """How long a login still holds."""
        return self._logins.get(login, 0.0) - self._now() if self.asks else LOGIN_SECONDS

    def _now(self) -> float:
        return asyncio.get_running_loop().time()

    def _headers(self) -> Middleware:
        @web.middleware
        async def headers(request: web.Request, handler: Handler) -> web.StreamResponse:
            try:
                response = await handler(request)
            except web.HTTPException as answer:
                answer.headers.update(HEADERS)
                raise
            if not response.prepared:
                response.headers.update(HEADERS)
            return response

        return headers

    def _same_site(self) -> Middleware:
        @web.middleware
        async def same_site(request: web.Request, handler: Handler) -> web.StreamResponse:
            if not is_own_host(request.host, self.hosts):
                raise web.HTTPMisdirectedRequest(text="this server has another name")
            changes = request.method != "GET" or "upgrade" in request.headers.get("Connection", "").lower()
            if changes and not is_own_origin(request.headers.get("Origin"), request.host, self.secure):
                raise web.HTTPForbidden(text="asked from another page")
            return await handler(request)

        return same_site

    def _logged_in(self) -> Middleware:
        @web.middleware
        async def logged_in(request: web.Request, handler: Handler) -> web.StreamResponse:
            free = request.path in OPEN_PATHS or request.path.startswith(FILES)
            if not free and await self.login_of(request) is None:
                if request.path == "/":
                    raise web.HTTPSeeOther("/login")
                raise web.HTTPUnauthorized(text="log in first")
            return await handler(request)

        return logged_in


def is_own_host(host: str, own: Collection[str]) -> bool:
    """Whether the name by which the server was asked is one of its own, whatever the port."""
    try:
        name = urlsplit(f"//{host}").hostname
    except ValueError:
        return False
    return name is not None and name.lower() in own


def is_own_origin(origin: str | None, host: str, secure: bool) -> bool:
    """Whether a request comes from a page of this very server."""
    return origin is not None and origin.lower() == f"{'https' if secure else 'http'}://{host}".lower()
