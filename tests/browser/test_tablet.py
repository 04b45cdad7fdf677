"""A morning on a tablet: every stop by touch, two tablets at once, a lost connection, a wrong passcode."""

from __future__ import annotations

import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from contextlib import closing
from datetime import date
from pathlib import Path

import pytest
from selenium import webdriver
from selenium.webdriver.common.actions import interaction
from selenium.webdriver.common.actions.action_builder import ActionBuilder
from selenium.webdriver.common.actions.pointer_input import PointerInput
from selenium.webdriver.common.by import By

from schedules.ledger import Entry, Served, Skipped, Undone
from schedules.ledger.stores.sqlite import open_ledger
from tests.browser.proxy import Proxy
from tests.tui.rooms import make_session, room_text

DAY = date(2026, 11, 25)
PATIENCE = 60.0
CHROMIUM = (
    "--headless",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--window-size=1280,800",
    "--touch-events=enabled",
)


@pytest.fixture
def room(tmp_path: Path) -> Path:
    path = tmp_path / "room.toml"
    path.write_text(room_text(), encoding="utf-8")
    make_session(tmp_path).ledger.close()
    return path


@pytest.fixture
def proxy(room: Path) -> Iterator[Proxy]:
    """A running server with passcodes, and a way to it that can be cut."""
    program = [sys.executable, "-m", "tui"]
    for keeper, code in (("Mara", "482913"), ("Ben", "719204")):
        command = [*program, "passcode", str(room), keeper]
        subprocess.run(command, input=code, text=True, check=True, capture_output=True)
    command = [*program, "serve", str(room), "--host", "127.0.0.1", "--port", "0", "--now", "2026-11-25T07:10"]
    server = subprocess.Popen(command, stdout=subprocess.PIPE, text=True)
    try:
        assert server.stdout is not None
        line = server.stdout.readline()
        yield Proxy(int(line.split(":")[2].split("/")[0]))
    finally:
        server.terminate()
        server.wait(30)


class Tablet:
    """A browser in the size of a tablet of ten inches."""

    def __init__(self, port: int, folder: Path) -> None:
        options = webdriver.ChromeOptions()
        for each in (*CHROMIUM, f"--user-data-dir={folder}"):
            options.add_argument(each)
        self.driver = webdriver.Chrome(options=options)
        self.base = f"http://127.0.0.1:{port}/"

    def log_in(self, keeper: str, code: str) -> None:
        self.driver.get(self.base)
        self.driver.find_element(By.CSS_SELECTOR, f"input[value={keeper}]").click()
        self.driver.find_element(By.NAME, "code").send_keys(code)
        self.driver.find_element(By.CSS_SELECTOR, "form button").click()

    def state(self) -> str:
        return self.driver.find_element(By.ID, "state").text

    def open(self, keeper: str, code: str) -> None:
        self.log_in(keeper, code)
        until(lambda: self.state() == "connected", "connected")
        until(
            lambda: "-first-byte" in str(self.driver.find_element(By.TAG_NAME, "body").get_attribute("class")), "drawn"
        )
        # The first picture is there; the dashboard takes keys once it has one.
        time.sleep(1)

    def tap(self, says: str) -> None:
        """Touch one of the buttons below the dashboard."""
        found = next(each for each in self.driver.find_elements(By.CSS_SELECTOR, "#keys button") if says in each.text)
        finger = PointerInput(interaction.POINTER_TOUCH, "finger")  # type: ignore[no-untyped-call]
        actions = ActionBuilder(self.driver, mouse=finger)
        actions.pointer_action.move_to(found).pointer_down().pointer_up()  # type: ignore[no-untyped-call]
        actions.perform()

    def close(self) -> None:
        self.driver.quit()


@pytest.fixture
def tablets(proxy: Proxy, tmp_path: Path) -> Iterator[Callable[[], Tablet]]:
    opened: list[Tablet] = []

    def another() -> Tablet:
        opened.append(Tablet(proxy.port, tmp_path / f"browser-{len(opened)}"))
        return opened[-1]

    yield another
    for each in opened:
        each.close()


def until(holds: Callable[[], bool], wish: str) -> None:
    end = time.monotonic() + PATIENCE
    while not holds():
        assert time.monotonic() < end, f"never came: {wish}"
        time.sleep(0.1)


def written(room: Path) -> list[Entry]:
    with closing(open_ledger(room.with_suffix(".ledger.db"))) as ledger:
        return list(ledger.read(DAY, DAY))


def marks(room: Path) -> list[tuple[str, str, str]]:
    """What was given or left out today, by tank, feed and keeper."""
    whats = ((entry.what, str(entry.by)) for entry in written(room))
    return [(what.tank, what.feed, by) for what, by in whats if isinstance(what, Served | Skipped)]


def due(room: Path) -> set[tuple[str, str]]:
    with closing(open_ledger(room.with_suffix(".ledger.db"))) as ledger:
        posting = ledger.posting(DAY)
        assert posting is not None
        return {(serving.tank, serving.feed) for serving in posting.due(DAY) if serving.round == "morning"}


def test_a_whole_morning_is_walked_by_touch_alone(tablets: Callable[[], Tablet], room: Path) -> None:
    tablet = tablets()
    tablet.open("Mara", "482913")
    wanted = due(room)
    for _ in range(len(wanted) + 2):
        known = len(marks(room))
        tablet.tap("done")
        time.sleep(0.6)
        if {(tank, feed) for tank, feed, _ in marks(room)} >= wanted:
            break
        until(lambda before=known: len(marks(room)) > before, "another mark")  # type: ignore[misc]

    done = marks(room)
    assert {(tank, feed) for tank, feed, _ in done} >= wanted
    assert len(done) == len({(tank, feed) for tank, feed, _ in done})
    assert {by for _, _, by in done[-3:]} == {"Mara"}


def test_what_was_tapped_is_taken_back_by_a_tap(tablets: Callable[[], Tablet], room: Path) -> None:
    tablet = tablets()
    tablet.open("Mara", "482913")
    before = len(written(room))
    tablet.tap("done")
    until(lambda: len(written(room)) > before, "a mark")
    tablet.tap("undo")
    time.sleep(1)
    tablet.tap("1")
    until(lambda: isinstance(written(room)[-1].what, Undone), "it is taken back")


def test_two_tablets_walk_the_same_round_and_nothing_is_given_twice(tablets: Callable[[], Tablet], room: Path) -> None:
    first, second = tablets(), tablets()
    first.open("Mara", "482913")
    second.open("Ben", "719204")
    wanted = due(room)
    end = time.monotonic() + PATIENCE
    while not {(tank, feed) for tank, feed, _ in marks(room)} >= wanted and time.monotonic() < end:
        first.tap("done")
        second.tap("done")
        time.sleep(0.7)

    done = [(tank, feed) for tank, feed, _ in marks(room)]
    assert set(done) >= wanted
    assert len(done) == len(set(done))
    assert {by for _, _, by in marks(room)} >= {"Mara", "Ben"}


def test_a_lost_connection_comes_back_at_the_same_place_and_repeats_nothing(
    tablets: Callable[[], Tablet], room: Path, proxy: Proxy
) -> None:
    tablet = tablets()
    tablet.open("Mara", "482913")
    before = len(marks(room))
    tablet.tap("done")
    until(lambda: len(marks(room)) > before, "a mark")
    known = marks(room)

    proxy.cut()
    until(lambda: "lost" in tablet.state(), "the loss is said")
    tablet.tap("done")
    tablet.tap("done")
    proxy.mend()
    until(lambda: tablet.state() == "connected", "connected again")
    time.sleep(2)
    assert marks(room) == known

    tablet.tap("done")
    until(lambda: len(marks(room)) > len(known), "the next mark")
    again = [(tank, feed) for tank, feed, _ in marks(room)]
    assert len(again) == len(set(again))


def test_a_wrong_passcode_shows_nothing_of_the_room(tablets: Callable[[], Tablet]) -> None:
    tablet = tablets()
    tablet.log_in("Mara", "111222")

    until(lambda: "not the passcode" in tablet.driver.page_source, "the refusal")
    assert "xterm" not in tablet.driver.page_source
    tablet.driver.get(tablet.base)
    assert tablet.driver.current_url.endswith("/login")


def test_nothing_is_asked_of_any_other_host(tablets: Callable[[], Tablet]) -> None:
    tablet = tablets()
    tablet.open("Mara", "482913")
    asked = tablet.driver.execute_script("return performance.getEntriesByType('resource').map((each) => each.name)")

    assert asked
    assert [each for each in asked if not each.startswith(tablet.base)] == []


def test_every_button_is_as_large_as_a_thumb(tablets: Callable[[], Tablet]) -> None:
    # WCAG 2.2, 2.5.5: targets of 44 by 44 CSS pixels.
    tablet = tablets()
    tablet.open("Mara", "482913")
    sizes = [each.size for each in tablet.driver.find_elements(By.TAG_NAME, "button")]

    assert len(sizes) > 15
    assert min(min(size["width"], size["height"]) for size in sizes) >= 44
