"""Who may ask: a keeper with the right passcode, from the server's own page, by the server's own name."""

from __future__ import annotations

from http.cookies import SimpleCookie

import pytest
from aiohttp import WSServerHandshakeError

from tests.serve.conftest import HASHES, TAB, Browser, Running, running
from tui.serve.gate import is_own_host, is_own_origin


async def test_nothing_is_shown_before_a_login(browser: Browser) -> None:
    assert (await browser.get("/")).headers["Location"] == "/login"
    with pytest.raises(WSServerHandshakeError) as refused:
        await browser.connect()
    assert refused.value.status == 401


async def test_the_right_passcode_opens_the_page_and_a_wrong_one_does_not(browser: Browser) -> None:
    wrong = await browser.log_in("Mara", "000000")
    assert wrong.status == 403
    assert "not the passcode" in await wrong.text()
    assert (await browser.get("/")).status == 303

    assert (await browser.log_in()).status == 303
    page = await browser.get("/")
    assert page.status == 200
    assert "Mara" in await page.text()


async def test_a_passcode_of_another_keeper_is_wrong(browser: Browser) -> None:
    assert (await browser.log_in("Ben", "482913")).status == 403
    assert (await browser.post("/login", {"keeper": "Nobody", "code": "482913"})).status == 403
    assert (await browser.post("/login", {})).status == 403


async def test_after_five_wrong_passcodes_the_right_one_has_to_wait_too(server: Running) -> None:
    browser = server.browser()
    for _ in range(5):
        assert "not the passcode" in await (await browser.log_in("Mara", "111222")).text()

    late = await browser.log_in("Mara")
    assert late.status == 403
    assert "Too many" in await late.text()
    assert (await server.browser().log_in("Ben")).status == 303


async def test_no_passcode_is_ever_written_to_the_log(server: Running) -> None:
    await server.browser().log_in("Mara", "111222")
    await server.browser().log_in("Mara")

    assert [line.split(" from ")[0] for line in server.log] == ["wrong passcode for Mara", "Mara logged in"]
    assert "482913" not in "".join(server.log)


async def test_a_login_that_was_ended_is_worth_nothing_even_with_its_cookie(browser: Browser) -> None:
    await browser.log_in()
    kept = {cookie.key: cookie.value for cookie in browser.session.cookie_jar}
    await browser.post("/logout")
    browser.session.cookie_jar.update_cookies(kept)

    assert (await browser.get("/")).status == 303


async def test_the_cookie_is_for_this_server_alone_and_no_script_can_read_it(browser: Browser) -> None:
    answer = await browser.log_in()
    cookie = SimpleCookie(answer.headers["Set-Cookie"])["rackround"]

    assert cookie["httponly"]
    assert cookie["samesite"] == "Strict"
    assert int(cookie["max-age"]) <= 12 * 3600
    assert "Mara" not in cookie.value


@pytest.mark.parametrize("origin", ["http://evil.example", "null", "https://localhost", ""])
async def test_another_page_can_neither_log_in_nor_connect(origin: str, browser: Browser) -> None:
    refused = await browser.post("/login", {"keeper": "Mara", "code": "482913"}, Origin=origin)
    assert refused.status == 403
    assert "Set-Cookie" not in refused.headers

    await browser.log_in()
    with pytest.raises(WSServerHandshakeError) as closed:
        await browser.connect(Origin=origin)
    assert closed.value.status == 403


@pytest.mark.parametrize("host", ["evil.example", "evil.example:8808", "localhost.evil.example", "["])
async def test_a_name_that_merely_points_here_is_not_answered(host: str, browser: Browser) -> None:
    # A page of that name could otherwise read what is answered (DNS rebinding).
    assert (await browser.get("/login", headers={"Host": host})).status in (400, 421)


async def test_every_answer_forbids_frames_foreign_scripts_and_copies(browser: Browser) -> None:
    for path in ("/login", "/files/page.js", "/nothing", "/"):
        headers = (await browser.get(path)).headers
        assert "default-src 'none'" in headers["Content-Security-Policy"]
        assert "frame-ancestors 'none'" in headers["Content-Security-Policy"]
        assert "script-src 'self';" in headers["Content-Security-Policy"]
        assert headers["X-Content-Type-Options"] == "nosniff"
        assert headers["Cache-Control"] == "no-store"


async def test_on_the_own_machine_without_passcodes_nobody_logs_in() -> None:
    async with running({}) as server:
        assert (await server.browser().get("/")).status == 200
        assert (await server.browser().get("/login")).headers["Location"] == "/"


async def test_a_name_in_a_page_is_text(server: Running) -> None:
    page = await (await server.browser().get("/login")).text()
    assert "Cellar &lt;by&gt; the stairs" in page
    async with running(HASHES | {'"><script>': HASHES["Mara"]}) as hostile:
        assert "<script>" not in await (await hostile.browser().get("/login")).text()


@pytest.mark.parametrize(
    "path",
    [
        "/files/..%2fserver.py",
        "/files/%2e%2e/server.py",
        "/files/../gate.py",
        "/files//etc/passwd",
        "/files/page.js%00",
        "/files/",
        "/files/index.html",
        "/download/x",
        "/static/js/textual.js",
        f"/window/{TAB}/../../x",
    ],
)
async def test_no_address_becomes_a_path(path: str, browser: Browser) -> None:
    await browser.log_in()

    assert (await browser.get(path)).status in (400, 404)


def test_hosts_and_origins_are_compared_as_names() -> None:
    assert is_own_host("Localhost:99", {"localhost"})
    assert is_own_host("[::1]:99", {"::1"})
    assert not is_own_host("localhost@evil.example", {"localhost"})
    assert not is_own_host("", {"localhost"})
    assert is_own_origin("http://localhost:99", "localhost:99", secure=False)
    assert not is_own_origin("http://localhost:99", "localhost:99", secure=True)
    assert not is_own_origin("http://localhost:98", "localhost:99", secure=False)
    assert not is_own_origin(None, "localhost", secure=False)
