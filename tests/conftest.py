"""What all tests share."""

from __future__ import annotations

import os
import sys
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import Final

import pytest
from hypothesis import settings

# A check of a submission tries the same examples each time; by hand, new ones are tried with every run.
settings.register_profile("ci", derandomize=True)
if os.environ.get("CI"):
    settings.load_profile("ci")

ROOT: Final = Path(__file__).parents[1]
# These need Chromium and ChromeDriver, which pip cannot install: `make test-browser` runs them.
collect_ignore = [] if os.environ.get("BROWSER_TESTS") else ["browser"]
LONG: Final = (
    "tests/cli/test_commands.py",
    "tests/cli/test_demo_life.py",
    "tests/cli/test_formats.py",
    "tests/cli/test_leave.py",
    "tests/cli/test_paper.py",
    "tests/cli/test_words.py",
    "tests/fuzz/",
    "tests/ledger/test_copies.py",
    "tests/ledger/test_crash_and_race.py",
    "tests/ledger/test_damage.py",
    "tests/ledger/test_line.py",
    "tests/ledger/test_store_against_model.py",
    "tests/planning/test_checker.py",
    "tests/planning/test_costs_by_hand.py",
    "tests/planning/test_delivery.py",
    "tests/planning/test_every_plan_is_lawful.py",
    "tests/planning/test_json_faults.py",
    "tests/planning/test_near_the_best.py",
    "tests/planning/test_pinwheel.py",
    "tests/planning/test_references.py",
    "tests/planning/test_rooms.py",
    "tests/pty/",
    "tests/room_file/test_any_text.py",
    "tests/room_file/test_positions.py",
    "tests/round/test_random_rooms.py",
    "tests/session/test_doors.py",
    "tests/tui/",
)
"""Where the tests are that take long, a file or a whole folder; everything else is `make quick`."""


def pytest_collection_modifyitems(items: Iterable[pytest.Item]) -> None:
    """Mark long tests, so that one place says which they are."""
    for item in items:
        if item.path.relative_to(ROOT).as_posix().startswith(LONG):
            item.add_marker("long")


@pytest.fixture(autouse=True, scope="session")
def _server_ends() -> Iterator[None]:
    """End the database server at last, where a test asked for one."""
    yield
    if "tests.ledger.places" in sys.modules:
        from tests.ledger.places import end_shared_server

        end_shared_server()


@pytest.fixture(autouse=True, scope="session")
def _own_cache(tmp_path_factory: pytest.TempPathFactory) -> Iterator[None]:
    """Keep the cache folder of whoever runs the tests out of them."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("XDG_CACHE_HOME", str(tmp_path_factory.mktemp("cache")))
        patch.setenv("XDG_STATE_HOME", str(tmp_path_factory.mktemp("state")))
        yield
