"""Length and mass beside published figures. Where a check only repeats our own table, it says so."""

from __future__ import annotations

from datetime import timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from schedules.amounts.ration.growth import SPREAD, body_mg, fan_body_mg, length_of
from schedules.history.life.curve import length_at
from schedules.room import Presence
from tests.amounts.rooms import TODAY

# (total length mm, wet mass mg): Macrobrachium rosenbergii juvenile 0.21 ± 0.021 g at 31 ± 2.1 mm (Habashy and Hassan
# 2011); its post-larva 6.10 ± 0.4 mg (Goda and others 2011) at 7.90 to 9.08 mm (another study), the mean taken;
# Neocaridina davidi male 30.48 mg, quoted at second hand, at 15 mm from another paper; Farfantepenaeus duorarum 95 mg
# at 24.1 mm (Diaz and others 2001).
PUBLISHED = [(31.0, 210.0), (8.49, 6.10), (15.0, 30.48), (24.1, 95.0)]


@pytest.mark.parametrize(("mm", "mg"), PUBLISHED)
def test_body_mass_is_within_its_stated_spread_of_every_published_pair_of_length_and_mass(mm: float, mg: float) -> None:
    assert mg / SPREAD["measured"] <= body_mg(mm) <= mg * SPREAD["measured"]


def test_a_hatchling_weighs_about_what_its_egg_did() -> None:
    # An egg of 1.19 mm (Nur and Christianus 2013) is 0.35 mg at 0.75 mm across, 0.88 mg as a sphere.
    assert 0.35 <= body_mg(2.3) <= 0.88


def moulted_to(days: float) -> float:
    """Total length after some days by Hart's moult model of Caridina nilotica at about 27 °C, from 0.6 mm carapace.

    They only grow when they moult. Interval 1.573 CL^0.999 days, next carapace 0.284 + 0.977 CL mm (Hart 2001, Limnol.
    Oceanogr. 46:692-698), and four carapaces to the total length, which is assumed.
    """
    carapace, age = 0.6, 0.0
    while True:
        interval = 1.573 * carapace**0.999
        after = 0.284 + 0.977 * carapace
        if age + interval >= days:
            return 4.0 * carapace
        carapace, age = after, age + interval


@pytest.mark.parametrize("days", [30, 45, 60, 75, 90])
def test_length_by_age_agrees_with_a_published_moult_model_within_a_millimetre(days: int) -> None:
    assert length_at(days) == pytest.approx(moulted_to(days), abs=1.0)


def test_length_at_hatch_and_at_maturity_is_as_published() -> None:
    # 2.3 mm at hatch (Nur and Christianus 2013); mature at 75 days, when the moult model above is at 18.5 mm
    assert length_at(0) == pytest.approx(2.3)
    assert length_at(75) == pytest.approx(18.5, abs=0.1)
    assert length_at(-3) == length_at(0)


@pytest.mark.parametrize(("day", "mm"), [(10, 4.7), (20, 6.9), (30, 8.9), (60, 13.5), (90, 16.8), (180, 22.1)])
def test_the_slow_curve_is_the_lower_bound_of_the_reference_table(day: int, mm: float) -> None:
    # Our own reference table: this guards against a slip and is no outside check.
    assert length_at(day, slow=True) == pytest.approx(mm, abs=0.1)


def test_fan_feeders_weigh_what_females_of_their_length_were_found_to_weigh() -> None:
    # Females of Atya margaritacea from 43 to 59 mm weigh 1.9 to 6.0 g (Sanchez Palacios and others 2008).
    assert fan_body_mg(43) == pytest.approx(1900, rel=0.1)
    assert fan_body_mg(59) == pytest.approx(6000, rel=0.2)


@pytest.mark.parametrize("mm", [55.0, 60.0, 80.0])
def test_fan_feeders_of_another_species_weigh_within_a_half_of_that(mm: float) -> None:
    # Atya gabonensis: W = 0.0002 CL^3.1895 g, total length 2.57 carapaces (Oliveira and others 2021, Nauplius 29).
    gabonensis = 0.0002 * (mm / 2.57) ** 3.1895 * 1000
    assert gabonensis / 1.5 <= fan_body_mg(mm) <= gabonensis * 1.5


def test_a_measured_length_comes_before_age_and_age_before_the_stage() -> None:
    young = Presence("shrimplet", 10, hatched=TODAY - timedelta(days=30))
    measured = Presence("shrimplet", 10, hatched=TODAY - timedelta(days=30), length=8.0)
    assert (length_of(measured, TODAY, 25.0).mm, length_of(measured, TODAY, 25.0).basis) == (8.0, "measured")
    assert length_of(young, TODAY, 25.0).basis == "age"
    assert length_of(Presence("juvenile", 10), TODAY, 25.0).basis == "stage"


def test_below_24_degrees_they_are_taken_to_grow_slowly_and_at_24_not() -> None:
    young = Presence("shrimplet", 10, hatched=TODAY - timedelta(days=30))
    assert length_of(young, TODAY, 23.9).basis == "slow_age"
    assert length_of(young, TODAY, 24.0).basis == "age"
    assert length_of(young, TODAY, None).basis == "age"
    assert length_of(young, TODAY, 23.9).mm < length_of(young, TODAY, 24.0).mm


def test_shrimplets_without_a_hatch_date_grow_from_the_day_they_are_first_there() -> None:
    young = Presence("shrimplet", 10, first=TODAY - timedelta(days=20))
    assert length_of(young, TODAY, 25.0).mm == length_at(20)


@given(st.floats(0, 400), st.floats(0.1, 100))
def test_they_never_shrink_and_never_outgrow_the_ceiling(age: float, later: float) -> None:
    for slow in (False, True):
        assert length_at(age, slow=slow) <= length_at(age + later, slow=slow) <= 25.0
        assert length_at(age, slow=True) <= length_at(age)
