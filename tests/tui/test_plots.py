"""Plots: every value where the axis says, readable without colour, no room left, no markup out of names."""

from __future__ import annotations

import re
from datetime import UTC, datetime, timedelta

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from rich.cells import cell_len

from tests.tui.monkey import SAID
from tui.widgets.plots.axes import dates_on, numbers_on
from tui.widgets.plots.drawing import columns_that_fit, drawn, part_of
from tui.widgets.plots.values import (
    Column,
    DatedPlot,
    Events,
    Interval,
    IntervalPlot,
    Level,
    Points,
    Series,
)

FIRST = datetime(2026, 10, 5, tzinfo=UTC)
LAST = datetime(2026, 11, 2, tzinfo=UTC)
SIZES = ((40, 8), (58, 12), (78, 16), (118, 32))
NAMES = st.text(max_size=20) | st.sampled_from([*SAID, "", "漢字の水槽"])


def dated(*series: Series, levels: tuple[Level, ...] = (), events: tuple[Events, ...] = ()) -> DatedPlot:
    """A plot of four weeks."""
    return DatedPlot(FIRST, LAST, "µS/cm", series, levels, events)


def row_of(text: str, number: str) -> str:
    """What is drawn in the row that the axis gives a number."""
    return next(line for line in text.splitlines() if line.lstrip().startswith(f"{number}┤"))


@pytest.mark.parametrize("size", SIZES)
def test_a_value_lies_in_the_row_of_its_number_and_in_the_column_of_its_date(size: tuple[int, int]) -> None:
    middle = datetime(2026, 10, 19, tzinfo=UTC)
    high = Series("a1", "A", "$accent", ((middle, 200.0),))
    low = Series("a2", "B", "$primary", ((LAST, 100.0),))
    lines = drawn(dated(high, low), *size).plain.splitlines()
    foot = next(number for number, line in enumerate(lines) if "┬" in line)
    column = row_of("\n".join(lines), "200").index("A")

    assert lines[foot][column] == "┬"
    assert "19 Oct" in lines[foot + 1][column - 6 : column + 7]
    assert row_of("\n".join(lines), "100").endswith("B")


def test_targets_are_lines_across_events_a_row_at_the_foot_and_the_series_lies_on_top() -> None:
    own = Series("a1", "●", "$accent", ((FIRST, 100.0), (LAST, 200.0)))
    target = Level("target up to 200", "=", "$success", None, 200.0)
    changes = Events("water changed", "w", "$primary", (FIRST + timedelta(days=7), FIRST + timedelta(days=21)))
    fed = Events("fed", "f", "$quiet", ())
    text = drawn(dated(own, levels=(target,), events=(changes, fed)), 60, 16).plain
    lines = text.splitlines()
    foot = next(number for number, line in enumerate(lines) if line.lstrip().startswith("└"))

    assert re.fullmatch(r"\s*200┤=+●", row_of(text, "200"))
    assert re.fullmatch(r"\s*│ +w +w +", lines[foot - 1])
    assert "● a1" in lines[-1] and "= target up to 200" in lines[-1] and "w water changed" in lines[-1]
    assert "fed" not in text, "what did not happen has no word"


@settings(deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(st.lists(NAMES, min_size=1, max_size=4), st.sampled_from(SIZES), st.floats(-1e4, 1e4), st.floats(0, 1e4))
def test_a_plot_keeps_to_its_room_whatever_the_names_and_numbers(
    names: list[str], size: tuple[int, int], low: float, span: float
) -> None:
    width, height = size
    series = tuple(Series(name, "x", "$accent", ((FIRST, low), (LAST, low + span))) for name in names)
    columns = tuple(Column(name, number) for number, name in enumerate(names))
    points = Points(names[0], "o", "$accent", tuple(Interval(0, 1, 2) for _ in names))
    intervals = IntervalPlot("%", "hatches", 0, 2, columns, (points,))

    for plot in (dated(*series), part_of(intervals, 0, width)):
        lines = drawn(plot, width, height).plain.split("\n")

        assert all(cell_len(line) <= width for line in lines)
        assert all(line.isprintable() for line in lines)
        assert any(sign in line for line in lines for sign in ("x", "o"))


def test_a_name_is_never_read_as_markup() -> None:
    content = drawn(dated(Series("[red]a1[/red]", "●", "$accent", ((FIRST, 1.0),))), 60, 12)

    assert "[red]a1[/red]" in content.plain


def test_an_interval_reaches_from_its_low_to_its_high_and_the_number_behind_it_is_named() -> None:
    plot = IntervalPlot(
        "alive, %",
        "hatches",
        0,
        100,
        (Column("a1", 3), Column("a2", 12)),
        (Points("at 30 days", "●", "$accent", (Interval(20, 60, 80), None)),),
    )
    text = drawn(plot, 60, 25).plain

    assert "●" in row_of(text, "60")
    assert "│" in row_of(text, "20").partition("┤")[2] and "│" in row_of(text, "80").partition("┤")[2]
    assert "│" not in row_of(text, "0").partition("┤")[2] and "│" not in row_of(text, "100").partition("┤")[2]
    assert "a1 (3)" in text and "a2 (12)" in text and "(1) hatches behind it" in text


def test_columns_without_room_are_left_for_the_next_page() -> None:
    columns = tuple(Column(f"tank {number}", 1) for number in range(30))
    points = Points("at 30 days", "●", "$accent", tuple(Interval(0, 50, 100) for _ in columns))
    plot = IntervalPlot("alive, %", "hatches", 0, 100, columns, (points,))
    most = columns_that_fit(plot, 58)
    pages = [drawn(part_of(plot, first, 58), 58, 16).plain for first in range(0, 30, most)]

    assert all(sum(f"{column.label} (1)" in page for page in pages) == 1 for column in columns)
    assert f"1 to {most} of 30" in pages[0]


@pytest.mark.parametrize(
    ("low", "high", "rows", "numbers"),
    [
        (0, 100, 7, ["0", "50", "100"]),
        (0, 100, 20, ["0", "20", "40", "60", "80", "100"]),
        (6.4, 7.3, 12, ["6.5", "7.0"]),
        (148, 262, 10, ["150", "200", "250"]),
        (0.0, 0.03, 12, ["0.00", "0.01", "0.02", "0.03"]),
    ],
)
def test_numbers_on_an_axis_are_round(low: float, high: float, rows: int, numbers: list[str]) -> None:
    assert list(numbers_on(low, high, rows).values()) == numbers


def test_dates_on_an_axis_are_mondays_once_they_are_weeks_apart() -> None:
    assert list(dates_on(FIRST, LAST, 60).values()) == ["5 Oct", "12 Oct", "19 Oct", "26 Oct", "2 Nov"]
    days = dates_on(datetime(2026, 10, 6, tzinfo=UTC), datetime(2026, 10, 9, tzinfo=UTC), 60)
    assert list(days.values()) == ["6 Oct", "7 Oct", "8 Oct", "9 Oct"]
