"""Batches, doses and their errors, against the published tolerances."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from schedules.amounts.mixing import batch_steps, batches, dose_text, goes_into_mix, mix
from schedules.amounts.mixing.batch import lightest_mg
from schedules.amounts.mixing.errors import root_sum_square, scale_error, syringe_error, weighing_error
from schedules.room import Tools
from tests.amounts.rooms import due, make_feed, make_room, make_tank

DUST = make_feed("dust", "powder")
WAFER = make_feed("wafer", "staple")
FEEDS = (DUST, WAFER)
ROOM = make_room(FEEDS, *(make_tank(f"a{number}", FEEDS) for number in range(1, 7)))


# ISO 7886-1 Table 1. The rows for syringes of 1 and 10 mL follow the worksheet of the Surgical Materials Testing
# Laboratory (Calculating-ISO-7886-TOGC); the others are worked out from class limits that are from memory.
@pytest.mark.parametrize(
    ("capacity", "dose", "tolerance"),
    [
        (1, 0.2, 0.019),
        (1, 0.4, 0.023),
        (1, 0.5, 0.025),
        (2, 0.5, 0.040),
        (5, 1, 0.085),
        (5, 2.4, 0.099),
        (5, 2.5, 0.100),
        (10, 1, 0.160),
        (10, 4, 0.190),
        (10, 5, 0.200),
        (20, 5, 0.350),
        (50, 10, 0.850),
    ],
)
def test_syringes_are_as_exact_as_iso_7886_1_allows(capacity: float, dose: float, tolerance: float) -> None:
    assert syringe_error(capacity, dose) == pytest.approx(tolerance, abs=5e-4)


# OIML R 76-1 Table 6. In service twice the error (UK SI 1995/1907 Schedule 2, whose reprint of the first class II band
# is a misprint; OIML's 5 000 e stands here).
@pytest.mark.parametrize(
    ("intervals", "scale", "errors"),
    [
        (500, "III", 0.5),
        (501, "III", 1.0),
        (2000, "III", 1.0),
        (2001, "III", 1.5),
        (10_000, "III", 1.5),
        (5000, "II", 0.5),
        (20_000, "II", 1.0),
        (100_000, "II", 1.5),
    ],
)
def test_scales_are_as_exact_as_oiml_r_76_allows(intervals: float, scale: str, errors: float) -> None:
    assert scale_error(intervals * 10, 10, scale) == errors * 10  # type: ignore[arg-type]
    assert scale_error(intervals * 10, 10, scale, in_service=True) == errors * 20  # type: ignore[arg-type]


def test_a_scale_has_no_tolerance_beyond_its_largest_load() -> None:
    with pytest.raises(ValueError, match="class III"):
        scale_error(10_001, 1)


@pytest.mark.parametrize(("grams", "percent"), [(0.05, 10), (0.10, 5), (0.20, 2.5), (0.50, 1), (1.0, 0.5), (2.0, 0.25)])
def test_rounding_to_a_hundredth_of_a_gram_costs_what_the_table_says(grams: float, percent: float) -> None:
    # d = 0.01 g, half-width 0.005 g, without tare; with tare two readings, so times the root of two
    assert weighing_error(grams, 0.01) / 2**0.5 == pytest.approx(percent / 100)


def test_a_verified_scale_counts_with_what_is_permitted_in_service_where_that_is_more_than_rounding() -> None:
    # e = 10 mg, class III: ± 0.5 e up to 500 e, twice that in service
    assert weighing_error(200, 1, 10) == pytest.approx(10 / 200)
    assert weighing_error(200, 100, 10) == weighing_error(200, 100)
    assert (
        mix(DUST, [("a1", 100.0)], replace(Tools(), verified_mg=10.0)).mass_mg
        > mix(DUST, [("a1", 100.0)], Tools()).mass_mg
    )


def test_the_slurry_example_comes_out_at_six_percent() -> None:
    # 0.20 g in 50 mL, 2 mL with a 5 mL syringe: scale 3.54 %, volume 1 %, syringe 4.75 %, root sum of squares 6.01 %
    scale, volume, syringe = weighing_error(200, 10), 0.5 / 50, syringe_error(5, 2) / 2
    assert (scale, volume, syringe) == pytest.approx((0.0354, 0.01, 0.0475), abs=5e-5)
    assert root_sum_square(scale, volume, syringe) == pytest.approx(0.0601, abs=5e-5)
    assert 200 / 50 * 2 == 8.0


def test_what_is_given_by_volume_is_what_is_premixed_or_cannot_be_measured_dry() -> None:
    assert goes_into_mix(DUST, due("a1", DUST, 0.3, 12))
    assert not goes_into_mix(WAFER, due("a1", WAFER, 0.6, 30))
    assert goes_into_mix(WAFER, due("a1", WAFER, 0.6, 13))
    assert not goes_into_mix(DUST, due("a1", DUST, 0.3, 0))


def test_a_round_gets_one_batch_for_each_mixed_feed_with_its_doses_in_walking_order() -> None:
    servings = [due("a3", DUST, 0.3, 60), due("a1", DUST, 0.3, 80), due("a2", DUST, 0.3, 45), due("a2", WAFER, 0.6, 30)]
    made = batches(ROOM, servings)
    assert [batch.feed for batch in made] == ["dust"]
    assert [dose.tank for dose in made[0].doses] == ["a1", "a2", "a3"]
    assert made[0].within
    assert all(dose.error is not None and dose.error <= ROOM.tools.error for dose in made[0].doses)


def test_doses_sit_in_the_upper_half_of_the_smallest_vessel_that_holds_them() -> None:
    batch = mix(DUST, [("a1", 60.0), ("a2", 50.0), ("a3", 58.0)], Tools())
    sizes = sorted(vessel.ml for vessel in (*Tools().syringes, *Tools().cups))
    for dose in batch.doses:
        assert dose.upper_half
        assert dose.vessel.ml == min(size for size in sizes if size >= dose.ml * (1 - 1e-9))


def test_a_batch_too_small_to_weigh_is_made_from_a_stock_step_by_step() -> None:
    batch = mix(DUST, [("a1", 1.2), ("a2", 0.8)], Tools())
    least = lightest_mg(Tools())
    assert least is not None
    assert batch.mass_mg == least > 2
    assert batch.dilutions
    assert batch.within
    steps = batch_steps(ROOM, batch)
    assert steps[0] == f"Weigh {least / 1000:.2f} g of Dust."
    assert "of stock" in steps[1]
    assert "fill up to" in steps[2]


def test_without_a_scale_a_batch_is_measured_by_the_spoon_and_no_accuracy_is_claimed() -> None:
    batch = mix(DUST, [("a1", 20.0), ("a2", 25.0)], replace(Tools(), scale_mg=None))
    assert batch.measures == 0.5
    assert batch.mass_mg == 60
    assert all(dose.error is None for dose in batch.doses)
    assert "±" not in dose_text(batch.doses[0])


def test_a_solid_feed_is_ground_before_it_is_weighed() -> None:
    assert batch_steps(ROOM, mix(WAFER, [("a1", 80.0)], Tools()))[0] == "Weigh 0.18 g of Wafer, ground."


def test_a_dose_larger_than_any_vessel_takes_several_fills() -> None:
    small = Tools(syringes=Tools().syringes[:3], cups=(), jug_ml=1000)
    batch = mix(DUST, [("a1", 4000.0), ("a2", 20.0)], small)
    assert batch.doses[0].times > 1
    assert batch.doses[0].ml <= 5


masses = st.lists(st.floats(0.05, 300), min_size=1, max_size=8)


@settings(max_examples=30, deadline=None)
@given(masses, st.sampled_from((1.0, 10.0, 100.0, None)))
def test_doses_and_what_is_left_add_up_to_what_was_weighed_and_none_is_above_what_is_due(
    asked: list[float], scale: float | None
) -> None:
    tools = replace(Tools(), scale_mg=scale)
    batch = mix(DUST, [(f"a{number}", mg) for number, mg in enumerate(asked)], tools)
    strength = batch.mg_per_ml
    carried = batch.mass_mg
    for step, before in zip(batch.dilutions, (batch.water_ml, *(step.to_ml for step in batch.dilutions)), strict=False):
        carried *= step.take_ml / before
    assert carried == pytest.approx(sum(dose.mg for dose in batch.doses) + batch.left_ml * strength, rel=1e-6)
    assert batch.left_ml >= -1e-9
    for dose, mg in zip(batch.doses, asked, strict=True):
        assert 0 <= dose.mg <= mg
        assert dose.mg + dose.lost_mg == pytest.approx(mg)
        assert dose.ml <= dose.vessel.ml * (1 + 1e-9)
        assert dose.ml / dose.vessel.mark_ml == pytest.approx(round(dose.ml / dose.vessel.mark_ml), abs=1e-6)


@settings(max_examples=30, deadline=None)
@given(masses)
def test_with_the_usual_tools_every_dose_of_alike_tanks_keeps_the_limit(asked: list[float]) -> None:
    assume(max(asked) <= 3 * min(asked))
    batch = mix(DUST, [(f"a{number}", mg) for number, mg in enumerate(asked)], Tools())
    assert batch.within
    assert sum(dose.lost_mg for dose in batch.doses) <= 0.1 * sum(asked)
