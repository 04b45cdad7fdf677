"""The watch: its statistics against published examples, what it finds in made-up readings, and what it leaves alone."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from datetime import timedelta

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.signal import lfilter
from scipy.stats import theilslopes

from schedules.history import History, history_of, refresh
from schedules.ledger import Noted, Reading, WaterChanged, What
from schedules.ledger.stores.memory import MemoryLedger
from schedules.review.flags import flags
from schedules.room import Room, Tank
from schedules.room.water.quantities import Quantity
from schedules.room.water.rules import Band
from schedules.water.watch import Finding, rack_findings, room_findings, tank_findings, too_few, trend
from schedules.water.watch.ewma import averages, limits
from schedules.water.watch.rack import RackWatch
from schedules.water.watch.theil_sen import theil_sen
from schedules.wording.flags import advice_text, evidence_text
from schedules.wording.water.findings import finding_text
from tests.water.rooms import MORNING, TODAY, first_rack, past_of

# NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.4: λ = 0.3, mean 50, s = 2.0539, k = 3.
NIST = [52.0, 47.0, 53.0, 49.3, 50.1, 47.0, 51.0, 50.1, 51.2, 50.5]
NIST += [49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1]
NIST_EWMA = [50.00, 50.60, 49.52, 50.56, 50.18, 50.16, 49.21, 49.75, 49.85, 50.26, 50.33]
NIST_EWMA += [50.11, 49.36, 49.52, 50.05, 49.38, 49.92, 50.73, 51.23, 51.94, 51.99]


def test_the_moving_average_and_its_limits_are_those_of_the_nist_example() -> None:
    assert averages(NIST, 50, 0.3) == pytest.approx(NIST_EWMA, abs=6e-3)
    assert limits(50, 2.0539, 0.3, 3) == pytest.approx((47.4115, 52.5884), abs=2e-4)


@given(st.lists(st.floats(-100, 100), min_size=1, max_size=40), st.floats(0.05, 1), st.floats(-100, 100))
def test_the_moving_average_is_the_filter_that_scipy_has(values: list[float], weight: float, start: float) -> None:
    filtered, _ = lfilter([weight], [1, weight - 1], values, zi=[(1 - weight) * start])
    assert averages(values, start, weight)[1:] == pytest.approx(list(filtered), abs=1e-9)


def test_the_limits_of_the_first_averages_hold_what_numbers_drawn_by_chance_do() -> None:
    # The spread of the average after i values, by the definition: 20,000 series of random numbers.
    drawn = np.random.default_rng(7).normal(0, 1, (20_000, 5))
    average = np.zeros(20_000)
    for count in range(1, 6):
        average = 0.3 * drawn[:, count - 1] + 0.7 * average
        assert limits(0, 1, 0.3, 1, count)[1] == pytest.approx(float(average.std()), rel=0.02)


def test_the_median_slope_and_its_interval_are_those_of_the_published_example() -> None:
    # Hollander and Wolfe 1999, as in the documentation of ci.theil: 0.5, 95 % 0.3243243 to 0.75.
    y = [21, 4, 9, 12, 35, 18, 10, 22, 24, 1, 6, 8, 13, 16, 19]
    x = [67, 28, 30, 28, 52, 40, 25, 37, 44, 10, 14, 20, 28, 40, 51]
    line = theil_sen(x, y)
    assert line is not None
    assert (line.slope, line.intercept) == (0.5, -2.0)
    assert [line.low, line.high] == pytest.approx([0.3243243, 0.75], abs=1e-7)


@given(
    st.lists(st.tuples(st.integers(0, 40), st.integers(100, 300)), min_size=3, max_size=25).filter(
        lambda points: len({x for x, _ in points}) > 1
    )
)
@pytest.mark.filterwarnings("ignore:invalid value encountered in sqrt")
def test_median_slopes_are_those_of_scipy_whatever_ties_there_are(points: list[tuple[int, int]]) -> None:
    x, y = [float(each) for each, _ in points], [float(each) for _, each in points]
    line, other = theil_sen(x, y), theilslopes(y, x, 0.95)
    assert line is not None
    assert [line.slope, line.intercept] == pytest.approx([other.slope, other.intercept])
    if len(points) > 5:  # with fewer, scipy's places beyond the ends wrap round
        assert [line.low, line.high] == pytest.approx([other.low_slope, other.high_slope])


NOISE = (0, 1, -1, 2, 0, -2, 1, 0, -1, 1, 2, -1)
"""A meter's last digits, as they come."""


def twice_a_week(count: int) -> list[int]:
    """Days before today, Mondays and Thursdays or so, the oldest first."""
    return [7 * (number // 2) + 4 * (number % 2) for number in range(count)][::-1]


def read(tank: str, quantity: Quantity, values: Sequence[float]) -> list[tuple[int, What]]:
    days = twice_a_week(len(values))
    return [(day, Reading(tank, quantity, value)) for day, value in zip(days, values, strict=True)]


def steady(level: float, count: int, noise: float = 1.0) -> list[float]:
    return [level + noise * NOISE[number % len(NOISE)] for number in range(count)]


def in_rack(room: Room, history: History, tank: Tank) -> list[Finding]:
    return list(rack_findings(room, history, tank.rack, TODAY))


def test_steady_readings_are_left_alone_also_by_a_meter_that_always_shows_the_same() -> None:
    room, tank = first_rack()
    for noise in (1.0, 0.0):
        history = past_of(*read(tank.id, "tds", steady(180, 20, noise)), *read(tank.id, "kh", [3.0] * 20))
        assert in_rack(room, history, tank) == []


def test_a_step_of_fifteen_percent_is_found_at_once_and_named_in_words() -> None:
    room, tank = first_rack()
    history = past_of(*read(tank.id, "tds", [*steady(180, 15), 210]))
    (finding,) = in_rack(room, history, tank)
    assert (finding.kind, finding.day, finding.value, finding.before) == ("step", TODAY, 210, 179)
    assert finding_text(room, finding) == "TDS from 179 mg/L to 210 mg/L (+17 %) since Sat 21 Nov, in one step"


@pytest.mark.parametrize(
    ("quantity", "values", "kind"),
    [
        ("temperature", [23.5, 23.4, 23.6, 23.5, 25.6], ["step"]),
        ("temperature", [23.5, 23.4, 23.6, 23.5, 24.6], []),
        ("kh", [4.0, 4.0, 4.0, 3.0], ["step"]),
        ("kh", [3.0, 3.0, 3.0, 4.0], []),
    ],
)
def test_two_degrees_and_a_falling_kh_are_steps_and_less_is_not(
    quantity: Quantity, values: list[float], kind: list[str]
) -> None:
    room, tank = first_rack()
    found = in_rack(room, past_of(*read(tank.id, quantity, values)), tank)
    assert [finding.kind for finding in found] == kind


def test_a_slow_drift_is_found_long_before_it_is_fifteen_percent() -> None:
    room, tank = first_rack()
    drifting = [180 * 1.02**number for number in range(8)]
    history = past_of(*read(tank.id, "tds", [*steady(180, 14), *drifting]))
    (first, *_) = in_rack(room, history, tank)
    assert first.kind == "drift"
    reached = dict(zip(twice_a_week(22), [*steady(180, 14), *drifting], strict=True))[(TODAY - first.day).days]
    assert reached < 180 * 1.1


def test_the_same_step_in_all_tanks_of_a_rack_is_one_finding_for_the_rack() -> None:
    room, tank = first_rack()
    mates = [each.id for each in room.tanks.values() if each.rack == tank.rack][:5]
    assert len(mates) >= 3
    acts = [
        act
        for number, mate in enumerate(mates)
        for act in read(mate, "tds", [*steady(150 + 20 * number, 14), (150 + 20 * number) * 1.18])
    ]
    (finding,) = in_rack(room, past_of(*acts), tank)
    assert finding.kind == "rack_step"
    assert set(finding.tanks) == set(mates)
    assert "the meter or the make-up water" in finding_text(room, finding)


def test_one_tank_that_moves_alone_in_its_rack_is_found_as_that_tank() -> None:
    room, tank = first_rack()
    mates = [each.id for each in room.tanks.values() if each.rack == tank.rack][:4]
    acts = [act for mate in mates for act in read(mate, "tds", [*steady(180, 14), 215 if mate == mates[1] else 181])]
    assert [(each.kind, each.tank) for each in in_rack(room, past_of(*acts), tank)] == [("step", mates[1])]


def test_a_step_that_a_large_water_change_explains_is_no_finding_and_begins_a_new_level() -> None:
    room, tank = first_rack()
    values = [*steady(180, 14), *steady(120, 6)]
    history = past_of(*read(tank.id, "tds", values), (19, WaterChanged(tank.id, tank.litres * 0.5, "mixed")))
    days = twice_a_week(20)
    assert days[13] > 19 >= days[14]
    assert in_rack(room, history, tank) == []
    assert in_rack(room, past_of(*read(tank.id, "tds", values)), tank) != []


def test_few_readings_say_too_few() -> None:
    _, tank = first_rack()
    history = past_of(*read(tank.id, "tds", [180, 181, 179]))
    assert too_few(history, tank, "tds", TODAY)
    assert trend(history, tank, "tds", TODAY) is None
    assert not too_few(past_of(*read(tank.id, "tds", steady(180, 6))), tank, "tds", TODAY)


def test_a_trend_says_on_which_day_it_leaves_the_target() -> None:
    _, tank = first_rack()
    tank = replace(tank, bands={"tds": Band(low=150, high=200, highest=260)})
    days = twice_a_week(10)
    # A steady line of 1 mg/L a day, 190 today: 200 in ten days, by arithmetic.
    history = past_of(*((day, Reading(tank.id, "tds", float(190 - day))) for day in days))
    (finding,) = tank_findings(history, tank, TODAY)
    assert (finding.kind, finding.bound, finding.slope) == ("leaving", 200, 1.0)
    assert finding.until == TODAY + timedelta(days=10)
    room, _ = first_rack()
    assert "+7 mg/L a week" in finding_text(room, finding)


def test_readings_beyond_target_limit_and_daily_change_are_found() -> None:
    room, tank = first_rack()
    band = Band(low=150, high=200, lowest=100, highest=220, daily=5)
    room = replace(room, tanks={**room.tanks, tank.id: replace(tank, bands={"tds": band})})
    for value, kinds in ((205, ["target"]), (230, ["limit"]), (199, [])):
        history = past_of(*read(tank.id, "tds", [198, 199, 198, value]))
        found = [each.kind for each in room_findings(room, history, TODAY) if each.day == TODAY]
        assert [kind for kind in found if kind not in ("swing", "step")] == kinds
    swung = past_of((1, Reading(tank.id, "tds", 180)), (0, Reading(tank.id, "tds", 186)))
    assert [each.kind for each in room_findings(room, swung, TODAY)] == ["swing"]


def test_what_is_found_becomes_one_flag_for_a_rack_with_its_evidence_and_one_thing_to_do() -> None:
    room, tank = first_rack()
    mates = [each.id for each in room.tanks.values() if each.rack == tank.rack][:4]
    acts = [act for mate in mates for act in read(mate, "tds", [*steady(180, 14), 215])]
    found = [flag for flag in flags(room, past_of(*acts), MORNING) if flag.kind.startswith("water")]
    assert [(flag.kind, flag.severity) for flag in found] == [("water_of_rack", "high")]
    assert "in 4 tanks of rack" in evidence_text(room, found[0])
    assert advice_text(room, found[0]).startswith("Check the meter")


def test_ammonia_above_the_criterion_at_the_tanks_own_readings_is_found() -> None:
    # EPA 2013, pH 8.0 and 24 °C: 0.6004 mg/L; at pH 7.0 and 24 °C: 1.4581 mg/L.
    _, tank = first_rack()
    for ph, kinds in ((8.0, ["ammonia"]), (7.0, [])):
        history = past_of(
            (0, Reading(tank.id, "ammonia", 1.0)),
            (0, Reading(tank.id, "ph", ph)),
            (0, Reading(tank.id, "temperature", 24.0)),
        )
        assert [finding.kind for finding in tank_findings(history, tank, TODAY)] == kinds


def test_a_mark_lets_stand_what_was_found_in_the_racks_and_a_reading_does_not(monkeypatch: pytest.MonkeyPatch) -> None:
    room, tank = first_rack()
    ledger = MemoryLedger()
    for days, what in read(tank.id, "tds", steady(180, 14)):
        ledger.append([what], day=TODAY - timedelta(days=days), at=MORNING, by="Ana")
    looked: list[Quantity] = []

    def look(watch: RackWatch, _: object) -> Iterator[Finding]:
        looked.append(watch.quantity)
        return iter(())

    monkeypatch.setattr(RackWatch, "findings", look)
    history = history_of(ledger, TODAY)
    rack_findings(room, history, tank.rack, TODAY)
    ledger.append([Noted(tank.id, "moulted")], day=TODAY, at=MORNING, by="Ana")
    marked = refresh(history, ledger)
    rack_findings(room, marked, tank.rack, TODAY)
    # Flags are worked out tank by tank, each in a room with that tank alone in its walk.
    rack_findings(room.only(room.walk[-1]), marked, tank.rack, TODAY)

    assert marked is not history
    assert len(looked) == 1

    ledger.append([Reading(tank.id, "tds", 215)], day=TODAY, at=MORNING, by="Ana")
    rack_findings(room, refresh(marked, ledger), tank.rack, TODAY)

    assert len(looked) == 2


@given(st.permutations(range(14)))
def test_the_order_in_which_keepers_write_their_readings_down_does_not_matter(order: list[int]) -> None:
    room, tank = first_rack()
    acts = read(tank.id, "tds", [*steady(180, 13), 215])
    shuffled = in_rack(room, past_of(*(acts[number] for number in order)), tank)
    assert [finding.kind for finding in shuffled] == ["step"]
    assert shuffled == in_rack(room, past_of(*acts), tank)
