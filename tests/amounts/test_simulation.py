"""The simulation of amounts beside a fixed spoon and the label, on a few tanks; the whole table is a command."""

from __future__ import annotations

from statistics import mean

import pytest

from tests.bench.amounts_sim import HEAD, Run, row, seen, simulate
from tests.bench.amounts_world import Setting, make_tanks

FEW = Setting(tanks=16, days=60)


@pytest.fixture(scope="module")
def runs() -> dict[str, list[Run]]:
    return simulate(FEW, 7)


def test_the_same_seed_gives_the_same_tanks_and_another_seed_others() -> None:
    assert make_tanks(FEW, 7) == make_tanks(FEW, 7)
    assert make_tanks(FEW, 7) != make_tanks(FEW, 8)


def test_following_the_ledger_leaves_at_least_five_times_fewer_leftover_days_than_the_label(
    runs: dict[str, list[Run]],
) -> None:
    by_ledger = mean(run.leftover_days for run in runs["by the ledger"])
    by_label = mean(run.leftover_days for run in runs["label's amount"])
    assert by_label >= 5 * by_ledger


def test_following_the_ledger_leaves_no_more_hungry_days_than_the_best_single_spoon(
    runs: dict[str, list[Run]],
) -> None:
    by_ledger = mean(run.hungry_days for run in runs["by the ledger"])
    by_spoon = mean(run.hungry_days for run in runs["fixed spoon"])
    assert by_ledger <= by_spoon


def test_after_ten_servings_nine_covered_tanks_in_ten_are_within_fifteen_percent(runs: dict[str, list[Run]]) -> None:
    covered = [run for run in runs["by the ledger"] if run.covered]
    assert len(covered) >= 8
    assert mean(run.near for run in covered) >= 0.9


def test_every_row_of_the_table_has_a_cell_for_each_heading(runs: dict[str, list[Run]]) -> None:
    heading = HEAD.splitlines()[0]
    assert {row(name, each).count("|") for name, each in runs.items()} == {heading.count("|")}


@pytest.mark.parametrize(("eaten", "report"), [(100, "none"), (91, "none"), (80, "some"), (51, "some"), (40, "most")])
def test_what_is_left_is_reported_by_how_much_of_it_there_is(eaten: float, report: str) -> None:
    assert seen(100, eaten, FEW) == report
