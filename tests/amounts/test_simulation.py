"""The simulation of amounts beside fixed spoons and the label, on a few tanks; the whole table is a command."""

from __future__ import annotations

from statistics import mean, median

import pytest

from schedules.history.life.curve import length_at
from tests.bench.amounts_sim import HEAD, Run, row, seen, simulate
from tests.bench.amounts_world import Brood, Life, Setting, full_length, make_tanks

FEW = Setting(tanks=10, days=90)


@pytest.fixture(scope="module")
def runs() -> dict[str, list[Run]]:
    return simulate(FEW, 7)


def length(runs: list[Run]) -> float:
    return mean(each for run in runs for each in run.length)


def left(runs: list[Run]) -> float:
    return mean(each for run in runs for each in run.left)


def test_the_same_seed_gives_the_same_tanks_and_another_seed_others() -> None:
    assert make_tanks(FEW, 7) == make_tanks(FEW, 7)
    assert make_tanks(FEW, 7) != make_tanks(FEW, 8)


def test_the_program_leaves_at_least_three_times_fewer_leftover_days_than_spoon_and_label(
    runs: dict[str, list[Run]],
) -> None:
    assert left(runs["fixed spoons"]) >= 3 * left(runs["by the program"])
    assert left(runs["label's amount"]) >= 3 * left(runs["by the program"])


def test_the_programs_worst_days_bring_at_most_half_of_the_labels_ammonia(runs: dict[str, list[Run]]) -> None:
    program, label = (median(run.peak for run in runs[name]) for name in ("by the program", "label's amount"))
    assert program <= label / 2


def test_the_young_grow_nearly_as_long_as_by_the_label_on_a_fraction_of_the_feed(runs: dict[str, list[Run]]) -> None:
    program, label = runs["by the program"], runs["label's amount"]
    assert length(program) >= 0.9 * length(label)
    assert sum(run.fine_fed for run in program) <= 0.6 * sum(run.fine_fed for run in label)


def test_young_that_always_find_enough_grow_by_the_curve() -> None:
    hidden = make_tanks(FEW, 7)[0]
    life = Life(hidden)
    for day in range(60):
        life.grow(day, 1.0)
    assert life.mm[0] == pytest.approx(full_length(hidden.broods[0], 60))
    assert full_length(Brood(0, 1, 0.01667), 60) == pytest.approx(length_at(60))


def test_every_row_of_the_table_has_a_cell_for_each_heading(runs: dict[str, list[Run]]) -> None:
    heading = HEAD.splitlines()[0]
    assert {row(name, each).count("|") for name, each in runs.items()} == {heading.count("|")}


@pytest.mark.parametrize(
    ("eaten", "report"), [(1.0, "none"), (0.91, "none"), (0.8, "some"), (0.51, "some"), (0.4, "most")]
)
def test_what_is_left_is_reported_by_how_much_of_it_there_is(eaten: float, report: str) -> None:
    assert seen(eaten) == report
