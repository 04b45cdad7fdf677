"""A rack's make-up water as one list: few batches, whole digits of the scale, fillings that fit the canister."""

from __future__ import annotations

from datetime import timedelta
from itertools import combinations
from math import ceil

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from schedules.ledger import Reading, What
from schedules.room import Room
from schedules.water.makeup.known import bands_of
from schedules.water.makeup.rack import MakeUp, rack_make_up
from tests.water.makeup.worlds import TODAY, WATERS, World, history_with, room_with

SALTS = "[[salts]]" + WATERS.partition("[[salts]]")[2]


def band(low: float, high: float) -> str:
    return f"bands = {{ gh = {{ low = {low}, high = {high}, daily = 3 }}, tds = {{ low = 100, high = 300 }} }}"


def low_tanks(room: Room, gh: float = 4.0) -> list[tuple[int, What]]:
    """Every tank read low in GH, having lost some water by its solids."""
    return [
        entry
        for tank in room.tanks
        for entry in (
            (7, Reading(tank, "tds", 150)),
            (0, Reading(tank, "tds", 160)),
            (0, Reading(tank, "gh", gh)),
        )
    ]


def made(room: Room, *entries: tuple[int, What], rack: str | None = None) -> MakeUp:
    return rack_make_up(room, history_with(*entries), TODAY, rack)


def test_pure_water_for_a_whole_rack_is_one_batch_with_each_tanks_litres() -> None:
    """From 150 to 160 mg/L each tank of 40 L has lost 2.5 L."""
    room = room_with(*["bands = { tds = { low = 100, high = 300 } }"] * 3)
    found = made(room, *low_tanks(room))
    (batch,) = found.batches
    assert (batch.source, batch.salts, batch.fillings) == (None, (), 1)
    assert dict(batch.tanks) == {tank: pytest.approx(2.5) for tank in "abc"}
    assert batch.total == pytest.approx(7.5)
    assert batch.jugs == 9
    assert found.unknown == () == found.cautions


def test_pure_water_is_carried_in_as_many_fillings_of_the_canister_as_it_takes_and_no_more_than_is_asked() -> None:
    head = "tools = { canister = 5 }\n"
    room = room_with(*["bands = { tds = { low = 100, high = 300 } }"] * 3, head=head)
    (batch,) = made(room, *low_tanks(room)).batches
    assert batch.fillings == 2
    assert batch.litres == pytest.approx(3.75)
    assert batch.total == pytest.approx(7.5)


def test_tanks_whose_bands_meet_share_a_batch_and_others_get_their_own() -> None:
    room = room_with(band(5, 7), band(6, 9), band(12, 14), top=SALTS)
    found = made(room, *low_tanks(room))
    salted = [batch for batch in found.batches if batch.salts]
    assert [[tank for tank, _ in batch.tanks] for batch in salted] == [["a", "b"], ["c"]]
    assert salted[0].minerals.gh == pytest.approx(6.5)
    assert salted[1].minerals.gh == pytest.approx(13)


def test_grams_are_a_whole_number_of_the_scales_digits_for_each_filling_of_the_canister() -> None:
    """0.2 g a litre raise GH by 6. A canister of 5 L takes 1 g; the scale shows tenths."""
    tools = "tools = { canister = 5, scale_mg = 100, jug_ml = 2000 }\n"
    room = room_with(band(5, 7), band(5, 7), top=SALTS, head=tools)
    found = made(room, *low_tanks(room, 2.0))
    (batch,) = [each for each in found.batches if each.salts]
    needed = sum(litres for _, litres in batch.tanks)
    assert batch.litres <= 5
    assert batch.fillings == ceil(needed * 1.05 / 5)
    assert batch.total >= needed
    (salt,) = batch.salts
    assert round(salt.grams * 10) == pytest.approx(salt.grams * 10)
    assert salt.grams == pytest.approx(0.2 * batch.litres, abs=0.05)
    assert salt.error == pytest.approx(0.05 * 2**0.5 / salt.grams)
    assert "copper" in found.cautions


@pytest.mark.parametrize("canister", [number / 10 for number in range(21, 70, 3)])
def test_no_filling_is_larger_than_any_canister_and_its_grams_are_the_digit_next_to_what_is_needed(
    canister: float,
) -> None:
    tools = f"tools = {{ canister = {canister}, scale_mg = 100, jug_ml = 2000 }}\n"
    room = room_with(band(5, 7), band(5, 7), top=SALTS, head=tools)
    (batch,) = [each for each in made(room, *low_tanks(room, 2.0)).batches if each.salts]
    assert batch.litres <= canister + 1e-9
    assert batch.total >= sum(litres for _, litres in batch.tanks)
    (salt,) = batch.salts
    digits = salt.grams / 0.1
    assert digits == pytest.approx(round(digits))
    assert abs(salt.grams - 0.2 * batch.litres) <= 0.05 + 1e-9


def test_two_batches_do_for_four_tanks_that_in_walking_order_would_get_three() -> None:
    """GH 1 to 6 and 5 to 9 meet at 5 to 6, where 1 to 3 and 8 to 9 meet neither: 1 to 3 and 8 to 9 suit two each."""
    ends = ((1, 6), (5, 9), (1, 3), (8, 9))
    room = room_with(*(f"bands = {{ gh = {{ low = {low}, high = {high} }} }}" for low, high in ends), top=SALTS)
    found = made(room, *((0, Reading(tank, "gh", 0.5)) for tank in room.tanks))
    salted = [batch for batch in found.batches if batch.salts]
    assert [[tank for tank, _ in batch.tanks] for batch in salted] == [["a", "c"], ["b", "d"]]
    assert [batch.minerals.gh for batch in salted] == pytest.approx([2, 8.5])


def test_a_water_that_the_keeper_makes_is_listed_with_its_salts() -> None:
    waters = SALTS + '[[waters]]\nid = "mixed"\ngh = 6\nkh = 0\ntds = 190\nmade = true\ntop_off = true\n'
    room = room_with(band(5, 7), top=waters)
    found = made(room, *low_tanks(room, 5.5))
    (batch,) = found.batches
    assert batch.source == "mixed"
    assert {each.salt: each.grams for each in batch.salts} == {"gh-salt": pytest.approx(0.2 * batch.litres, abs=6e-3)}


def test_without_a_scale_the_grams_stay_as_they_are_worked_out() -> None:
    room = room_with(band(5, 7), top=SALTS, head='tools = { scale_mg = "none" }\n')
    (batch,) = [each for each in made(room, *low_tanks(room)).batches if each.salts]
    assert batch.salts[0].error is None
    assert batch.salts[0].grams == pytest.approx(0.2 * batch.litres)


def test_tanks_of_which_too_little_is_known_are_named_and_others_are_left_out_of_their_rack() -> None:
    room = room_with("", "")
    found = made(room, (7, Reading("b", "tds", 150)), (0, Reading("b", "tds", 160)))
    assert found.unknown == ("a",)
    assert made(room, rack="other") == MakeUp(TODAY, (), (), (), ())


def test_a_tank_whose_top_off_takes_days_gets_one_days_portion_and_no_change_on_top() -> None:
    room = room_with("bands = { tds = { low = 180, high = 200, daily = 5 } }", top=WATERS)
    found = made(room, (7, Reading("a", "tds", 210)), (0, Reading("a", "tds", 230)))
    (need,) = found.tanks
    assert need.pour is not None and need.change is not None
    assert len(need.pour.days) > 1
    assert sum(litres for batch in found.batches for _, litres in batch.tanks) == pytest.approx(need.pour.days[0])


ends = st.tuples(st.integers(1, 20), st.integers(0, 6)).map(lambda pair: (pair[0], pair[0] + pair[1]))


@settings(max_examples=40, deadline=None)
@given(st.lists(ends, min_size=1, max_size=6))
def test_no_smaller_number_of_batches_would_suit_all_tanks(bands: list[tuple[int, int]]) -> None:
    """As many waters as there are tanks no two of which could share one are needed (stabbing of intervals), no more."""
    room = room_with(*(f"bands = {{ gh = {{ low = {low}, high = {high} }} }}" for low, high in bands), top=SALTS)
    found = made(room, *((0, Reading(tank, "gh", 0.5)) for tank in room.tanks))
    shared = {batch.minerals.gh for batch in found.batches if batch.salts}
    apart = max(
        size
        for size in range(1, len(bands) + 1)
        if any(
            all(one[1] < other[0] or other[1] < one[0] for one, other in combinations(chosen, 2))
            for chosen in combinations(bands, size)
        )
    )
    assert len(shared) <= apart
    for need in found.tanks:
        if need.change is not None and need.change.water is not None:
            held = need.change.water.minerals.gh or 0
            gh = bands_of(room, room.tanks[need.tank])["gh"]
            assert (gh.low or 0) - 1e-6 <= held <= (gh.high or 0) + 1e-6


@settings(max_examples=8, deadline=None)
@given(st.floats(225, 300), st.floats(0.1, 0.5), st.floats(8, 20))
def test_a_keeper_who_follows_the_list_each_day_comes_into_the_band_without_a_shock(
    start: float, evaporated: float, swing: float
) -> None:
    """The world keeps masses: each day some water evaporates, the tank is read, topped off and changed as listed."""
    room = room_with(f"bands = {{ tds = {{ low = 160, high = 220, daily = {swing} }} }}", top=WATERS)
    world = World(mass=start * 40)
    held = {None: 0.0, "mixed": 180.0}
    days = range(40, -1, -1)
    solids = []
    for back in days:
        world.evaporate(evaporated)
        before = world.solids
        world.read(back)
        today = TODAY - timedelta(days=back)
        found = rack_make_up(room, history_with(*world.written[-6:]), today)
        (need,) = found.tanks
        if need.pour is not None:
            share = need.pour.days[0] / sum(need.pour.days)
            for water, litres in need.pour.parts:
                world.pour(back, litres * share, water.source, held[water.source])
        if need.change is not None and need.change.water is not None and need.change_today:
            source = need.change.water.source
            world.change(back, need.change_today, source, held[source])
        assert abs(world.solids - before) <= swing * 1.001
        solids.append(world.solids)
    assert solids[-1] <= 220 * 1.02
    assert min(solids) >= 160
