"""Other amounts of a serving to take: round the one due, in the feed's measure or in mL of its mix."""

from __future__ import annotations

from dataclasses import replace

import pytest

from schedules.ledger import PostedServing
from schedules.room import Measure
from schedules.round.choices import Choice, Unit, amounts_around
from schedules.round.doses import Doses, mix_round
from tests.amounts.rooms import TODAY, Past, due, make_feed, make_room, make_tank

DUST = make_feed("dust", "powder", measure=Measure("spoon", 60.0, 0.25))
PELLET = make_feed("pellet", "protein")
FEEDS = (DUST, PELLET)
ROOM = make_room(FEEDS, make_tank("a1", FEEDS), make_tank("a2", FEEDS))
POWDER, SMALL, PELLETS = due("a1", DUST, 1.0, 20.0), due("a2", DUST, 0.5, 10.0), due("a1", PELLET, 0.5, 150.0)


def mixed() -> Doses:
    return mix_round(ROOM, Past().posted(TODAY, (POWDER, SMALL, PELLETS)).history(), TODAY, "morning")


def by_hand(due: PostedServing) -> list[Choice]:
    unit, choices = amounts_around(mixed(), PELLET, due)
    assert unit == Unit(mixed=False, measures=1.0)
    return choices


def test_by_hand_eight_steps_of_the_measure_lie_around_what_is_due() -> None:
    """Two and a half pellets of 60 mg are 150 mg; pellets break in halves."""
    assert [each.measures for each in by_hand(PELLETS)] == [0.5, 1.0, 1.5, 2.0, 2.5, 3.0, 3.5, 4.0]
    assert [each.measures for each in by_hand(PELLETS) if each.as_due] == [2.5]
    assert [each.measures for each in by_hand(due("a1", PELLET, 0.5, 300.0))][::7] == [3.0, 6.5]
    assert {each.ml for each in by_hand(PELLETS)} == {None}


def test_the_least_amount_by_hand_is_one_step_and_never_nothing() -> None:
    assert by_hand(due("a1", PELLET, 0.5, 30.0))[0] == Choice(0.5, None, as_due=True)


def test_a_mix_offers_quarters_of_the_dose_in_mass_worth_what_its_millilitres_hold() -> None:
    doses = mixed()
    strength, dose = doses.mg_per_ml("dust"), doses.of(POWDER)
    assert strength is not None and dose is not None

    unit, choices = amounts_around(doses, DUST, POWDER)

    assert unit.mixed and unit.measures * 60 == pytest.approx(strength)
    assert [each.ml for each in choices if each.as_due] == [pytest.approx(dose.ml * dose.times)]
    for quarters, choice in enumerate(choices, start=1):
        assert choice.ml == pytest.approx(dose.ml * dose.times * quarters / 4, abs=dose.vessel.mark_ml / 2)
        assert choice.ml is not None and choice.measures * 60 == pytest.approx(choice.ml * strength)


def test_what_is_due_of_a_mix_is_offered_in_exactly_the_measures_that_are_due() -> None:
    odd = replace(POWDER, amount=POWDER.amount + 1e-4)

    _, choices = amounts_around(mixed(), DUST, odd)

    assert [each.measures for each in choices if each.as_due] == [odd.amount]


def test_each_tank_takes_its_own_dose_of_the_mix() -> None:
    doses = mixed()
    large, small = doses.of(POWDER), doses.of(SMALL)

    assert large is not None and small is not None
    assert (large.tank, large.mg, small.tank, small.mg) == ("a1", 20.0, "a2", 10.0)
    assert doses.dose_for("a1", "dust", 20.0) == large
    assert doses.dose_for("a1", "dust", 10.0) is doses.dose_for("a1", "pellet", 20.0) is None
    assert doses.servings == (PELLETS, POWDER, SMALL)


def test_an_amount_no_dose_was_made_for_is_measured_out_of_the_same_mix() -> None:
    doses = mixed()
    strength, dose = doses.mg_per_ml("dust"), doses.of(replace(POWDER, amount=0.25, amount_mg=15.0))

    assert strength is not None and dose is not None
    assert dose.tank == "a1"
    assert dose.ml * dose.times * strength == pytest.approx(15.0, rel=0.1)


def test_the_mixes_of_a_round_stay_the_same_while_it_is_walked() -> None:
    past = Past().posted(TODAY, (POWDER, SMALL, PELLETS)).gave("a1", DUST, TODAY, 1.0)

    assert mix_round(ROOM, past.history(), TODAY, "morning").bottles == mixed().bottles
