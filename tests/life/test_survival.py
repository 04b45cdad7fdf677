"""What became of hatches: published examples of the statistics, cohorts by hand, and what may be concluded."""

from __future__ import annotations

from math import sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from schedules.review.survival import Cohort, Conditions, cohorts_of, grouped
from schedules.review.survival.feeding import FineFeed
from schedules.review.survival.groups import apart
from schedules.review.survival.statistics import Z95, kaplan_meier, share_at, wilson, wilson_of_ranges
from schedules.room import Presence
from schedules.room.heads import Heads
from schedules.wording.animals.survival import conclusion
from tests.life.rooms import entries, folded, heads, room_of, sighting
from tests.life.test_fold import after

FED = Conditions({14: FineFeed(14, 10, 9, 1, 0), 30: FineFeed(30, 20, 15, 4, 2)}, 3, 1, 25.0)


@pytest.mark.parametrize(
    ("number", "of", "low", "high"),
    [
        # Newcombe 1998, Statistics in Medicine 17:857-872, table I, method 3; scipy 1.17 (binomtest) gives the same.
        (81, 263, 0.2553, 0.3662),
        (15, 148, 0.0624, 0.1605),
        (0, 20, 0.0000, 0.1611),
        (1, 29, 0.0061, 0.1718),
    ],
)
def test_wilsons_interval_is_the_published_one(number: int, of: int, low: float, high: float) -> None:
    found = wilson(number, of)
    assert (round(found.low, 4), round(found.high, 4)) == (low, high)


@given(st.integers(1, 500).flatmap(lambda of: st.tuples(st.integers(1, max(1, of - 1)), st.just(of + 1))))
def test_a_bound_of_wilsons_interval_is_just_not_rejected(numbers: tuple[int, int]) -> None:
    """The interval holds the shares that a score test does not reject (Wilson 1927): at its ends the test is at z."""
    number, of = numbers
    found = wilson(number, of)
    for bound in (found.low, found.high):
        assert abs(number / of - bound) / sqrt(bound * (1 - bound) / of) == pytest.approx(Z95)


@given(st.integers(1, 300), st.integers(0, 300), st.integers(0, 100), st.integers(0, 100))
def test_numbers_less_well_known_never_make_a_narrower_interval(of: int, number: int, off: int, ofs_off: int) -> None:
    number = min(number, of)
    exact = wilson(number, of)
    wide = wilson_of_ranges(number, (max(0, number - off), number + off), of, (max(1, of - ofs_off), of + ofs_off))
    assert wide.low <= exact.low + 1e-12 and wide.high >= exact.high - 1e-12


# Freireich and others 1963, Blood 21:699-716, the 6-MP arm, weeks; + is alive when last seen. The table is as printed
# by R's survfit (Klein and Moeschberger, section 1.2).
SIX_MP = "6 6 6 6+ 7 9+ 10 10+ 11+ 13 16 17+ 19+ 20+ 22 23 25+ 32+ 32+ 34+ 35+"
SIX_MP_TABLE = [
    (6, 21, 3, 0.857),
    (7, 17, 1, 0.807),
    (10, 15, 1, 0.753),
    (13, 12, 1, 0.690),
    (16, 11, 1, 0.627),
    (22, 7, 1, 0.538),
    (23, 6, 1, 0.448),
]


def curve(listed: str) -> list[tuple[float, int, int, float]]:
    times = listed.split()
    deaths = [(float(time), 1) for time in times if not time.endswith("+")]
    left = [(float(time[:-1]), 1) for time in times if time.endswith("+")]
    return [(step.time, step.at_risk, step.died, round(step.share, 3)) for step in kaplan_meier(deaths, left)]


def test_kaplan_and_meiers_curve_is_the_published_one() -> None:
    assert curve(SIX_MP) == SIX_MP_TABLE


def test_at_the_same_time_the_dead_go_before_those_last_seen_alive() -> None:
    """Bewick, Cheek and Ball 2004, Critical Care 8:389-394, table 2."""
    found = [(time, share) for time, _, _, share in curve("1 1 4 5 6+ 9 9+ 22")]
    assert found == [(1, 0.750), (4, 0.625), (5, 0.500), (9, 0.333), (22, 0.000)]


def test_before_the_first_death_all_live_and_between_two_nothing_changes() -> None:
    steps = kaplan_meier([(10, 1)], [(20, 3)])
    assert [share_at(steps, time) for time in (9, 10, 15, 60)] == [1.0, 0.75, 0.75, 0.75]


def one(*seen: object, today: int = 90) -> Cohort:
    life = folded(room_of(Presence("adult", 20)), entries(*seen))  # type: ignore[arg-type]
    (found,) = cohorts_of(life, after(today))
    return found


def test_a_hatch_counted_at_thirty_days_gives_its_share_with_the_counts_own_uncertainty() -> None:
    """30 of 40 counted one by one: Wilson's interval, 0.598 to 0.858; of about 30 it is wider on both sides."""
    counted = (31, sighting("count", 30, stage="shrimplet"))
    exact = one((0, sighting("hatch", 40)), counted).survival(30)
    about = one((0, sighting("hatch", 30, exact=False)), counted).survival(30)
    assert exact is not None and about is not None
    assert (exact.share, round(exact.low, 3), round(exact.high, 3)) == (0.75, 0.598, 0.858)
    assert about.share == 1.0 and about.low < exact.low


def test_the_sold_lived_and_those_a_count_does_not_find_died_by_then() -> None:
    cohort = one(
        (0, sighting("hatch", 40)),
        (10, sighting("dead", 4, stage="shrimplet")),
        (50, sighting("sold", 6, stage="shrimplet")),
        (62, sighting("count", 24, stage="juvenile")),
    )
    found = cohort.survival(60)
    assert found is not None and found.share == 30 / 40
    assert (cohort.deaths, cohort.left) == (((10, 4), (62, 6)), ((50, 6), (90, 24)))
    assert cohort.survival(30) is None


def test_a_cohort_is_followed_into_other_tanks() -> None:
    cohort = one(
        (0, sighting("hatch", 40)),
        (20, sighting("moved", 10, stage="shrimplet")),
        (62, sighting("count", 9, stage="juvenile", tank="b2")),
    )
    found = cohort.survival(60)
    assert found is not None and found.share == 39 / 40


def hatches(tank: str, alive: int, count: int) -> list[Cohort]:
    """Cohorts of 40 of which so many were counted at 60 days."""
    room = room_of()
    seen = entries((0, sighting("hatch", 40, tank=tank)), (62, sighting("count", alive, stage="juvenile", tank=tank)))
    life = folded(room, seen)
    assert heads(life, room, after(62), tank) == alive
    return [*cohorts_of(life, after(90))] * count


def test_groups_differ_only_where_their_intervals_do_not_meet() -> None:
    fed = {1: FED}
    close = grouped([*hatches("a1", 30, 6), *hatches("b2", 28, 6)], "tank", fed)
    far = grouped([*hatches("a1", 36, 6), *hatches("b2", 10, 6)], "tank", fed)

    assert apart(close, 60) == ()
    assert conclusion(close, "tank") == "No difference between tanks can be concluded: all intervals meet."
    assert [(more.name, less.name) for more, less in apart(far, 60)] == [("a1", "b2")]
    assert conclusion(far, "tank").startswith("At 60 days more lived in a1 than in b2")


def test_few_hatches_are_called_few() -> None:
    (group,) = grouped(hatches("a1", 30, 1), "feeding", {1: FED})
    assert (group.name, group.few, group.born) == ("over_80", True, 40)
    assert conclusion([group], "feeding").startswith("Nothing can be concluded yet")


def test_a_class_stands_for_all_numbers_up_to_its_neighbours() -> None:
    assert Heads(30, False).range == (18, 54)
