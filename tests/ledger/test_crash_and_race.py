"""Short runs of the two harnesses; the long ones are commands of their modules."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.ledger.crash import acknowledged, kill_many
from tests.ledger.race import race


@pytest.mark.filterwarnings("ignore:This process .* is multi-threaded:DeprecationWarning")
def test_no_acknowledged_entry_is_lost_when_writers_are_killed() -> None:
    wrong, harness = kill_many(25, seed=3)
    assert wrong == []
    assert harness.told > 0


def test_only_acts_that_were_told_of_to_the_end_count_as_acknowledged() -> None:
    assert acknowledged(["opened", "1 one", "2 two", "kept", "3 three"]) == {1: "one", 2: "two"}


def test_of_many_programs_exactly_one_is_first_with_each_serving(tmp_path: Path) -> None:
    wrong, firsts = race(4, 40, tmp_path)
    assert wrong == []
    assert sum(firsts.values()) == 40
