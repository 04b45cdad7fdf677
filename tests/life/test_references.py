"""The statistics against SciPy, and rearing trials from the literature as cohorts."""

from __future__ import annotations

import numpy
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import CensoredData, binomtest, ecdf

from schedules.history.life.ages import could_be
from schedules.history.life.hatching import incubation_days
from schedules.ledger import Sighting
from schedules.review.survival import Cohort, cohorts_of
from schedules.review.survival.statistics import Share, kaplan_meier, share_at, wilson
from schedules.room import Presence
from schedules.room.heads import BROOD, CLASSES
from tests.life.rooms import entries, folded, room_of, sighting
from tests.life.test_fold import after


@given(st.integers(1, 2000).flatmap(lambda of: st.tuples(st.integers(0, of), st.just(of))))
def test_wilsons_interval_is_scipys(numbers: tuple[int, int]) -> None:
    """scipy.stats.binomtest, method "wilson" without continuity correction."""
    number, of = numbers
    found, theirs = wilson(number, of), binomtest(number, of).proportion_ci(0.95, method="wilson")
    assert (found.low, found.high) == pytest.approx((theirs.low, theirs.high), abs=1e-9)


times = st.lists(st.tuples(st.integers(1, 90), st.integers(1, 20)), max_size=12)


@given(times.filter(bool), times)
def test_kaplan_and_meiers_curve_is_scipys(deaths: list[tuple[int, int]], left: list[tuple[int, int]]) -> None:
    """scipy.stats.ecdf of right-censored data: one time a head, those last seen alive as censored."""
    died = [float(time) for time, heads in deaths for _ in range(heads)]
    alive = [float(time) for time, heads in left for _ in range(heads)]
    theirs = ecdf(CensoredData(uncensored=died, right=alive)).sf
    steps = kaplan_meier(deaths, left)
    for time in range(0, 100, 3):
        assert share_at(steps, time) == pytest.approx(float(theirs.evaluate(numpy.array([time]))[0]), abs=1e-12)


def reared(hatched: int, *seen: tuple[int, Sighting]) -> Cohort:
    """A cohort of a rearing trial in water of 27 °C."""
    past = entries((0, sighting("hatch", hatched)), *seen)
    (cohort,) = cohorts_of(folded(room_of(celsius=27.0), past), after(120))
    return cohort


def share(cohort: Cohort, age: int) -> Share:
    found = cohort.survival(age)
    assert found is not None
    return found


def test_over_eighty_percent_alive_for_ninety_days_is_what_a_trial_reports_and_what_its_cohort_gives() -> None:
    """Tomas and others 2020, Aquaculture Nutrition, doi:10.1111/anu.13076: over 80 % over 90 days on five diets.

    100 young with that survival throughout: at 60 days the interval holds 0.8, and reaches neither one half nor all.
    """
    cohort = reared(100, (30, sighting("count", 88, stage="shrimplet")), (90, sighting("count", 82, stage="adult")))
    assert share(cohort, 30).share == 0.88
    assert share(cohort, 60).share == 0.82
    assert 0.5 < share(cohort, 60).low < 0.8 < share(cohort, 60).high < 1.0


def test_a_farms_least_survival_of_one_half_is_told_from_that_of_the_trial_with_a_hundred_young() -> None:
    """FAO Fisheries Technical Paper 428, section 6.5: survival to harvest should not fall below 50 %."""
    farm = share(reared(100, (60, sighting("count", 50, stage="juvenile"))), 60)
    trial = share(reared(100, (60, sighting("count", 82, stage="juvenile"))), 60)
    assert farm.high < trial.low
    few = (share(reared(12, (60, sighting("count", number, stage="juvenile"))), 60) for number in (6, 10))
    worse, better = few
    assert worse.high > better.low, "twelve young do not tell them apart"


def test_a_published_brood_is_a_hatch_that_the_eye_calls_about_thirty() -> None:
    """21 to 51 young a brood (Nur and Christianus 2013): the class of 30 holds them all."""
    least, most = CLASSES[BROOD]
    assert least <= 21 and most >= 51


def test_young_are_at_each_stage_when_the_trials_found_them_there() -> None:
    """Juveniles with 60 days, adults with 75, at 25 to 28 °C (Nur and Christianus 2013; Mahmoud and others 2020)."""
    life = folded(room_of(celsius=27.0), entries((0, sighting("hatch", 30))))
    stages = [
        [here.stage for here in life.animals["a1"] if here.on(after(days)) and here.count] for days in (59, 60, 74, 75)
    ]
    assert stages == [["shrimplet"], ["juvenile"], ["juvenile"], ["adult"]]
    assert could_be("juvenile", 60) and could_be("adult", 75)


def test_the_time_to_the_hatch_falls_with_temperature_as_published_and_is_not_said_beyond_it() -> None:
    """Tropea, Stumpf and López Greco 2015, PLoS ONE 10(3):e0119468: shorter at 28 than at 24 °C, at 32 than at 28."""
    middles = [sum(found) / 2 for celsius in (24.0, 28.0, 32.0) if (found := incubation_days(celsius)) is not None]
    assert len(middles) == 3 and middles == sorted(middles, reverse=True)
    assert incubation_days(23.9) is None and incubation_days(32.1) is None


def test_a_cohort_that_was_partly_sold_is_followed_by_what_was_sold_alive() -> None:
    """Sold animals are censored, not dead: Kaplan and Meier 1958."""
    cohort = reared(40, (50, sighting("sold", 10, stage="shrimplet")), (62, sighting("count", 30, stage="juvenile")))
    assert share(cohort, 60).share == 1.0 and cohort.deaths == ()
    assert sum(heads for _, heads in cohort.left) == 40


def test_adults_of_the_room_are_no_part_of_a_cohort() -> None:
    past = entries((0, sighting("hatch", 40)), (10, sighting("dead", 5)))
    (cohort,) = cohorts_of(folded(room_of(Presence("adult", 20)), past), after(90))
    assert cohort.deaths == ()
