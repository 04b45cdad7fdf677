"""The dashboard behind a page: it is typed into once, keeps its place without a connection, and no shell starts it."""

from __future__ import annotations

import asyncio
import json
import re
from typing import Any

import pytest
from aiohttp import ClientWebSocketResponse, WSMsgType

from tests.serve.conftest import HASHES, TAB, Browser, running

OTHER_TAB = "f" * 32


async def reads(socket: ClientWebSocketResponse, text: str) -> str:
    """What comes until some text is in it."""
    found = ""
    async with asyncio.timeout(20):
        while text not in found:
            message = await socket.receive()
            assert message.type == WSMsgType.BINARY, (message, found)
            found += message.data.decode()
    return found


async def closes(socket: ClientWebSocketResponse) -> int:
    """The code with which a connection is closed."""
    async with asyncio.timeout(20):
        while (await socket.receive()).type not in (WSMsgType.CLOSE, WSMsgType.CLOSED, WSMsgType.CLOSING):
            pass
    return socket.close_code or 0


def started(text: str) -> dict[str, Any]:
    found = re.search(r"\{.*?\}", text)
    assert found is not None
    document: dict[str, Any] = json.loads(found[0])
    return document


async def test_the_dashboard_is_the_keepers_and_its_words_are_read_by_no_shell(browser: Browser) -> None:
    await browser.log_in("Ben")
    socket = await browser.connect()
    shown = started(await reads(socket, "}"))

    assert shown["words"] == ["Ben", "; echo $HOME"]
    assert shown["size"] == "90x30"


async def test_what_is_typed_arrives_once_and_in_its_order(browser: Browser) -> None:
    await browser.log_in()
    socket = await browser.connect()
    await reads(socket, "90x30")
    for key in ("a", "é", "\x1b[A", '"; rm -rf /'):
        await socket.send_json(["stdin", key])

    assert '[a][é][\x1b[A]["; rm -rf /]' in await reads(socket, "rm -rf /]")


async def test_a_lost_connection_keeps_the_place_and_repeats_nothing(browser: Browser) -> None:
    await browser.log_in()
    first = await browser.connect()
    before = started(await reads(first, "90x30"))
    await first.send_json(["stdin", "once"])
    await reads(first, "[once]")
    await first.close()

    again = await browser.connect()
    shown = await reads(again, "90x30")
    # The same program: it did not begin a second time, and is only asked to draw itself again.
    assert "{" not in shown
    assert "once" not in shown
    assert "90x29" in shown
    assert shown.startswith("\x1b[?1049h")
    await again.send_json(["stdin", "still here"])
    await reads(again, "[still here]")
    assert before["id"]


async def test_the_same_page_in_two_places_is_shown_in_the_newer_one(browser: Browser) -> None:
    await browser.log_in()
    first = await browser.connect()
    await reads(first, "90x30")
    second = await browser.connect()

    assert await closes(first) == 4001
    await second.send_json(["stdin", "x"])
    await reads(second, "[x]")


async def test_two_tablets_have_a_dashboard_each(browser: Browser) -> None:
    await browser.log_in()
    first, second = await browser.connect(), await browser.connect(OTHER_TAB)

    assert started(await reads(first, "}"))["id"] != started(await reads(second, "}"))["id"]


async def test_a_dashboard_that_was_closed_is_opened_anew_by_the_next_page(browser: Browser) -> None:
    await browser.log_in()
    first = await browser.connect()
    before = started(await reads(first, "90x30"))
    await first.send_json(["stdin", "bye"])
    assert await closes(first) == 4000

    after = started(await reads(await browser.connect(), "}"))
    assert after["id"] != before["id"]


async def test_a_dashboard_without_a_page_is_closed_after_a_while() -> None:
    async with running(HASHES, kept_seconds=0.2) as server:
        browser = server.browser()
        await browser.log_in()
        first = await browser.connect()
        before = started(await reads(first, "90x30"))
        await first.close()
        async with asyncio.timeout(20):
            while server.pages._windows:
                await asyncio.sleep(0.05)

        assert started(await reads(await browser.connect(), "}"))["id"] != before["id"]


async def test_logging_out_closes_the_dashboard(browser: Browser) -> None:
    await browser.log_in()
    socket = await browser.connect()
    await reads(socket, "90x30")
    await browser.post("/logout")

    assert await closes(socket) == 4000


@pytest.mark.parametrize(
    "message",
    [
        "",
        "stdin",
        "{}",
        "[]",
        '["stdin"]',
        '["stdin", 1]',
        '["stdin", "a", "b"]',
        '["resize", {"width": "90", "height": 30}]',
        '["resize", {"width": 1e99, "height": 30}]',
        '["ping", "' + "x" * 200 + '"]',
        '["deliver_chunk_request", {"key": "x", "size": 1}]',
        "[" * 5000,
    ],
)
async def test_a_message_of_another_form_ends_the_connection_and_not_the_server(message: str, browser: Browser) -> None:
    await browser.log_in()
    socket = await browser.connect()
    await reads(socket, "90x30")
    await socket.send_str(message)
    assert await closes(socket) == 1008

    again = await browser.connect()
    await again.send_json(["stdin", "fine"])
    await reads(again, "[fine]")


async def test_a_message_that_is_too_long_or_no_text_ends_the_connection(browser: Browser) -> None:
    await browser.log_in()
    socket = await browser.connect()
    await socket.send_bytes(b"\x00\x01")
    assert await closes(socket) == 1008
    socket = await browser.connect()
    await socket.send_json(["stdin", "x" * 70_000])
    assert await closes(socket) == 1009


@pytest.mark.parametrize(
    ("size", "taken"),
    [
        ("?width=99999&height=1", "80x8"),
        ("?width=-5&height=x", "80x24"),
        ("", "80x24"),
        ("?width=9999&height=9999", "300x120"),
    ],
)
async def test_a_size_is_one_that_a_terminal_may_have(size: str, taken: str, browser: Browser) -> None:
    await browser.log_in()

    assert started(await reads(await browser.connect(size=size), "}"))["size"] == taken


@pytest.mark.parametrize("tab", ["x", "../../etc", "0" * 31, "0" * 33, "G" * 32])
async def test_a_window_has_an_id_of_one_form(tab: str, browser: Browser) -> None:
    await browser.log_in()

    assert (await browser.get(f"/window/{tab}")).status in (400, 404)


async def test_a_ping_is_answered(browser: Browser) -> None:
    await browser.log_in()
    socket = await browser.connect(TAB)
    await reads(socket, "90x30")
    await socket.send_json(["ping", "17"])
    async with asyncio.timeout(20):
        while (message := await socket.receive()).type == WSMsgType.BINARY:
            pass

    assert message.json() == ["pong", "17"]


async def test_no_more_dashboards_than_the_machine_can_carry(browser: Browser, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("tui.serve.server.MOST_WINDOWS", 1)
    await browser.log_in()
    await reads(await browser.connect(), "90x30")

    assert await closes(await browser.connect(OTHER_TAB)) == 4000
