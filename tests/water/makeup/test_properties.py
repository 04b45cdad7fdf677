"""What holds for every tank and every water: masses balance, swings are kept, splits reach what they say."""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise
from math import ceil, prod

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from schedules.water.makeup.changes import MOST_PART, change_plan, fewest_changes
from schedules.water.makeup.minerals import DISSOLVED, PURE, Minerals, TankWater, mixed
from schedules.water.makeup.salting import Dissolving, recipe
from schedules.water.makeup.split import portions, split

concentrations = st.floats(0, 2000)
waters = st.builds(Minerals, concentrations, st.floats(0, 30), st.floats(0, 20))
volumes = st.floats(1, 500)
deeds = st.lists(
    st.tuples(st.sampled_from(["evaporated", "poured", "changed", "salted"]), st.floats(0, 0.6), waters), max_size=12
)


@given(volumes, waters, deeds)
def test_masses_balance_through_any_row_of_top_offs_changes_and_evaporation(
    litres: float, water: Minerals, row: list[tuple[str, float, Minerals]]
) -> None:
    """Conservation of mass: kept here in exact fractions of milligrams, while the program keeps concentrations."""
    tank = TankWater(litres, water)
    volume = Fraction(litres)
    masses = [Fraction(each or 0.0) * volume for each in water]
    for deed, part, other in row:
        amount = part * tank.litres
        match deed:
            case "evaporated":
                tank = tank.evaporated(amount)
                volume -= Fraction(amount)
            case "poured":
                tank = tank.poured(amount, other)
                volume += Fraction(amount)
                masses = [
                    mass + Fraction(amount) * Fraction(each or 0.0) for mass, each in zip(masses, other, strict=True)
                ]
            case "changed":
                tank = tank.changed(amount, other)
                kept = 1 - Fraction(amount) / volume
                masses = [
                    mass * kept + Fraction(amount) * Fraction(each or 0.0)
                    for mass, each in zip(masses, other, strict=True)
                ]
            case "salted":
                tank = tank.salted(part, other)
                masses = [
                    mass + Fraction(part) * Fraction(each or 0.0) for mass, each in zip(masses, other, strict=True)
                ]
    assert tank.litres == pytest.approx(float(volume), rel=1e-9)
    for value, mass in zip(tank.minerals, masses, strict=True):
        assert value == pytest.approx(float(mass / volume), rel=1e-9, abs=1e-9)


@given(st.lists(st.tuples(volumes, waters), min_size=1, max_size=6))
def test_a_mix_lies_between_its_waters_whatever_their_order(parts: list[tuple[float, Minerals]]) -> None:
    found, other_way = mixed(parts), mixed(reversed(parts))
    for quantity in DISSOLVED:
        values = [water.of(quantity) or 0.0 for _, water in parts]
        value = found.of(quantity)
        assert value is not None
        assert min(values) - 1e-6 <= value <= max(values) + 1e-6
        assert value == pytest.approx(other_way.of(quantity))


@given(volumes, waters, st.floats(0, 0.9))
def test_evaporation_and_pure_water_bring_a_tank_back_to_where_it_was(
    litres: float, water: Minerals, part: float
) -> None:
    lost = litres * part
    assert TankWater(litres, water).evaporated(lost).poured(lost, PURE).minerals == pytest.approx(water, rel=1e-9)


def test_more_water_than_there_is_cannot_go() -> None:
    for deed in ("evaporated", "changed"):
        with pytest.raises(ValueError, match="cannot be taken away"):
            getattr(TankWater(10, PURE), deed)(10, *([PURE] if deed == "changed" else []))


@given(volumes, st.floats(1, 1000), st.floats(0.01, 0.5), st.floats(1, 1000), st.floats(0, 0.9), st.floats(0, 1.2))
def test_a_split_reaches_its_target_exactly_or_says_on_which_side_it_stays(
    litres: float, now: float, part: float, rich: float, poor_part: float, target_part: float
) -> None:
    tank, lost = TankWater(litres * (1 - part), Minerals(now)), litres * part
    pure, mineralised, target = Minerals(rich * poor_part), Minerals(rich), target_part * now
    found = split(tank, lost, "tds", target, mineralised, pure)
    after = found.after.tds
    assert after is not None
    assert found.pure + found.mineralised == pytest.approx(lost)
    assert min(found.pure, found.mineralised) >= 0
    if found.reach == "reached":
        assert after == pytest.approx(target, rel=1e-6, abs=1e-6)
    elif found.reach == "too_high":
        assert after > target and found.mineralised == 0
    else:
        assert after < target and found.pure == 0


@given(volumes, waters, waters, st.floats(0.01, 0.5), st.floats(0.01, 50))
def test_portions_keep_the_swing_in_the_fewest_days(
    litres: float, now: Minerals, water: Minerals, part: float, swing: float
) -> None:
    tank, lost = TankWater(litres * (1 - part), now), litres * part
    goal = tank.poured(lost, water).minerals
    assume(abs((now.tds or 0) - (goal.tds or 0)) / swing < 200)
    found = portions(tank, lost, "tds", water, swing)
    assert sum(found) == pytest.approx(lost)
    before = now.tds or 0.0
    for each in found:
        tank = tank.poured(each, water)
        assert abs((tank.minerals.tds or 0) - before) <= swing * (1 + 1e-6) + 1e-9
        before = tank.minerals.tds or 0.0
    # No plan moves faster than the swing each day, so none takes fewer days than the way divided by it.
    assert len(found) <= ceil(abs((now.tds or 0) - (goal.tds or 0)) / swing * (1 - 1e-6)) or len(found) == 1


MUCH = 1.1
"""The rest of a plan comes last, which takes a few percent more water than if it came first."""
ways = st.tuples(st.floats(0.1, 0.99), st.floats(0.005, 0.4))


@given(ways)
def test_changes_take_the_fewest_days_that_the_swing_allows(way: tuple[float, float]) -> None:
    """No day covers more than the limit, so at least ⌈way / limit⌉ days are needed.

    That many are enough unless the largest single change binds first.
    """
    keep, limit = way
    assume(limit <= MOST_PART * keep and (1 - keep) / limit < 55)
    found = fewest_changes(keep, limit)
    assert found is not None
    assert len(found) == ceil((1 - keep) / limit - 1e-7)
    assert prod(1 - part for part in found) == pytest.approx(keep, rel=1e-6)


@given(ways)
def test_a_plan_made_again_after_each_change_goes_on_as_it_was(way: tuple[float, float]) -> None:
    """What is left after a change is a part of the rest of the way, and so is the limit."""
    keep, limit = way
    found = fewest_changes(keep, limit)
    assume(found is not None and len(found) > 1)
    assert found is not None
    left = 1 - found[0]
    again = fewest_changes(keep / left, limit / left)
    assert again == pytest.approx(found[1:], rel=1e-6, abs=1e-9)


@given(ways, st.lists(st.floats(0, 1), min_size=1, max_size=40))
def test_no_other_plan_of_as_many_days_takes_much_less_water(way: tuple[float, float], wishes: list[float]) -> None:
    keep, limit = way
    assume(limit <= MOST_PART * keep and (1 - keep) / limit < 35)
    ours = fewest_changes(keep, limit)
    assert ours is not None and ours
    for steps in (_steps(1 - keep, limit, len(ours), wishes), _steps(1 - keep, limit, len(ours), wishes)[::-1]):
        distance, theirs = 1.0, 0.0
        for step in steps:
            theirs += step / distance
            distance -= step
        assert sum(ours) <= theirs * MUCH


def _steps(way: float, limit: float, days: int, wishes: list[float]) -> list[float]:
    """Any steps of at most `limit` that cover a way in so many days, shaped by wishes."""
    steps: list[float] = []
    for day in range(days):
        rest, later = way - sum(steps), (days - day - 1) * limit
        least, most = max(0.0, rest - later), min(limit, rest)
        steps.append(least + (most - least) * wishes[day % len(wishes)])
    return steps


@given(
    *(st.floats(50, 600), st.floats(0, 600), st.floats(0.05, 0.95), st.floats(5, 60)),
    *(st.floats(0, 30), st.floats(0, 0.1), st.lists(st.floats(-1, 1), min_size=3, max_size=10)),
)
def test_the_swing_is_kept_however_wrong_meters_and_jugs_are(
    here: float, there: float, way: float, swing: float, error: float, volume_part: float, turns: list[float]
) -> None:
    target = here + (there - here) * way
    plan = change_plan(
        Minerals(here),
        Minerals(there),
        "tds",
        target,
        {"tds": swing},
        errors={"tds": error},
        volume_part=volume_part,
    )
    assume(plan is not None)
    assert plan is not None
    away = error if here > there else -error
    for worst in range(len(plan.parts)):
        # As far from the water as can be: read wrong, and changed too little each day but one, on which it is too much.
        rows = [[-1.0] * worst + [1.0], [turns[number % len(turns)] for number in range(worst + 1)]]
        for row in rows:
            tank, after = here + away, here + away
            for part, turn in zip(plan.parts, row, strict=False):
                tank, after = after, after + part * (1 + turn * volume_part) * (there - after)
            assert abs(after - tank) <= swing * (1 + 1e-6)


@given(waters, waters, st.floats(0.05, 0.95), st.floats(5, 60), st.floats(0.3, 3))
def test_the_swings_of_all_quantities_are_kept_at_once(
    now: Minerals, water: Minerals, way: float, solids: float, degrees: float
) -> None:
    here, there = now.gh or 0.0, water.gh or 0.0
    assume(abs(here - there) > 0.5)
    plan = change_plan(now, water, "gh", here + (there - here) * way, {"tds": solids, "gh": degrees, "kh": degrees})
    assume(plan is not None)
    assert plan is not None
    for before, after in pairwise(plan.after):
        assert abs((after.tds or 0) - (before.tds or 0)) <= solids * (1 + 1e-6)
        assert abs((after.gh or 0) - (before.gh or 0)) <= degrees * (1 + 1e-6)
        assert abs((after.kh or 0) - (before.kh or 0)) <= degrees * (1 + 1e-6)
    assert plan.after[-1].gh == pytest.approx(here + (there - here) * way, rel=1e-6, abs=1e-6)
    values = [each.gh or 0.0 for each in plan.after]
    assert all((b - a) * (there - here) >= -1e-9 for a, b in pairwise(values))


@pytest.mark.parametrize("target", [120.0, 320.0, 150.0])
def test_water_that_does_not_lead_to_the_target_makes_no_plan(target: float) -> None:
    """From 300 with water at 150: nothing below 150 and nothing above 300, and 150 itself only for ever."""
    assert change_plan(Minerals(300.0), Minerals(150.0), "tds", target, {"tds": 20}) is None


def test_a_tank_at_its_target_needs_no_change_and_an_unknown_one_gets_no_plan() -> None:
    plan = change_plan(Minerals(300.0), Minerals(150.0), "tds", 300, {"tds": 20})
    assert plan is not None and plan.parts == ()
    assert change_plan(Minerals(), Minerals(150.0), "tds", 300, {}) is None
    assert fewest_changes(0.001, 0.0001) is None


@given(st.floats(0.5, 20), st.floats(0.5, 15), st.floats(10, 60), st.floats(10, 60), st.floats(0, 0.5))
def test_two_salts_reach_hardness_and_alkalinity_exactly(
    gh: float, kh: float, one: float, other: float, cross: float
) -> None:
    """Where both can be reached with amounts above nothing, they are."""
    salts = [Dissolving("a", Minerals(None, one, one * cross)), Dissolving("b", Minerals(None, other * cross, other))]
    assume(gh * 1 - kh * cross > 0.01 and kh - gh * cross > 0.01)
    found = recipe(PURE, salts, Minerals(None, gh, kh))
    assert found is not None
    assert found.minerals.gh == pytest.approx(gh, abs=1e-5)
    assert found.minerals.kh == pytest.approx(kh, abs=1e-5)
    assert all(grams > 0 for _, grams in found.grams)
