"""Short runs of the two harnesses; the long ones are commands of their modules."""

from __future__ import annotations

from pathlib import Path

import pytest

from schedules.room.place import Place
from tests.ledger.crash import acknowledged, kill_many
from tests.ledger.places import STORES, shared_server
from tests.ledger.race import race
from tests.ledger.server import connected


@pytest.mark.filterwarnings("ignore:This process .* is multi-threaded:DeprecationWarning")
@pytest.mark.parametrize("store", STORES)
def test_no_acknowledged_entry_is_lost_when_writers_are_killed(store: str) -> None:
    wrong, harness = kill_many(25, 3, store)
    assert wrong == []
    assert harness.told > 0


def test_only_acts_that_were_told_of_to_the_end_count_as_acknowledged() -> None:
    assert acknowledged(["opened", "1 one", "2 two", "kept", "3 three"]) == {1: "one", 2: "two"}


def test_of_many_programs_exactly_one_is_first_with_each_serving(place: Place, tmp_path: Path) -> None:
    wrong, firsts = race(4, 40, place, tmp_path)
    assert wrong == []
    assert sum(firsts.values()) == 40


def test_it_is_first_come_first_served_whatever_isolation_the_server_is_set_to(tmp_path: Path) -> None:
    with shared_server().lent() as server:
        with connected(server) as connection:
            name = connection.info.dbname
            connection.execute(f"ALTER DATABASE {name} SET default_transaction_isolation = 'serializable'")
        wrong, firsts = race(2, 20, server, tmp_path)
    assert wrong == []
    assert sum(firsts.values()) == 20
