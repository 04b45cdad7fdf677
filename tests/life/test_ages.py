"""The ages at which stages change fit the lengths that the rations go by."""

from __future__ import annotations

import pytest

from schedules.history.life.ages import SLOW, USUAL, could_be
from schedules.history.life.curve import length_at
from schedules.room.kinds import Stage


@pytest.mark.parametrize(("usual", "slow"), [(USUAL.juvenile, SLOW.juvenile), (USUAL.adult, SLOW.adult)])
def test_in_cool_water_a_stage_begins_at_the_same_length_and_later(usual: int, slow: int) -> None:
    """The published ages are those of warm water (Nur and Christianus 2013); a day off is a tenth of a millimetre."""
    assert slow > usual
    assert length_at(slow, slow=True) == pytest.approx(length_at(usual), abs=0.1)


def test_every_age_has_a_stage_and_at_its_usual_age_each_stage_is_possible() -> None:
    stages: tuple[Stage, ...] = ("shrimplet", "juvenile", "adult")
    assert all(any(could_be(stage, age) for stage in stages) for age in range(400))
    assert could_be("juvenile", USUAL.juvenile) and could_be("adult", USUAL.adult)
    assert not could_be("adult", USUAL.juvenile - 1) and not could_be("shrimplet", SLOW.adult)
