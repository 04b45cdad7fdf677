"""The watch: what evaporates between top-offs, what known waters explain, what racks have in common."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from demo_racks import room_path
from schedules.ledger import Reading, WaterAdded, WaterChanged, What
from schedules.review.flags import flags
from schedules.room import Room
from schedules.room.water.sources import SourceWater
from schedules.room_file import load_room
from schedules.water.makeup.known import value_in
from schedules.water.watch import rack_findings, room_findings
from schedules.water.watch.findings import Done, Event, Read
from schedules.water.watch.full import as_full
from schedules.wording.water.findings import finding_text
from tests.water.makeup.worlds import World
from tests.water.rooms import MORNING, TODAY, first_rack, past_of
from tests.water.test_watch import steady, twice_a_week


def events_of(world: World) -> list[Event]:
    """What the keeper of a world wrote down, in its order; days count back from today."""
    found: list[Event] = []
    for back, what in world.written:
        day = TODAY - timedelta(days=back)
        if isinstance(what, Reading):
            found.append(Read(day, what.value))
        elif isinstance(what, WaterAdded):
            found.append(Done(day, what.litres / world.litres, 0.0, added=True))
    return found


def topped_off_weekly(daily: float, first: int, days: int = 56) -> World:
    """A tank of 200 mg/L in 40 L that loses so many litres a day, read twice a week and filled up once."""
    world = World()
    for back in range(days, -1, -1):
        world.evaporate(daily)
        if back % 7 in (1, 4):
            world.read(back)
        if back % 7 == first:
            world.fill(back, None, 0.0)
    return world


@given(st.floats(0.1, 0.6), st.integers(0, 6))
def test_a_reading_in_the_full_tank_is_what_the_balance_of_masses_gives(daily: float, first: int) -> None:
    """Nothing but water goes: the full tank holds 200 mg/L all the time, whatever the meter shows."""
    world = topped_off_weekly(daily, first)
    reads = [event for event in as_full(events_of(world)) if isinstance(event, Read)]
    assert len(reads) >= 14
    assert [read.full for read in reads] == pytest.approx([200.0] * len(reads))
    assert max(read.value for read in reads) > 200 * 40 / (40 - 2 * daily)


def test_where_top_offs_are_no_longer_written_down_no_more_is_taken_to_be_gone() -> None:
    world = topped_off_weekly(0.4, 0)
    written = [each for each in events_of(world) if isinstance(each, Read) or (TODAY - each.day).days > 30]
    last = [event for event in as_full(written) if isinstance(event, Read)][-3:]
    assert [read.lost for read in last] == pytest.approx([7 * 0.4 / 40] * 3)


def test_two_top_offs_say_nothing_of_their_pace() -> None:
    some = events_of(topped_off_weekly(0.4, 0, days=13))
    assert sum(isinstance(event, Done) for event in some) == 2
    assert as_full(some) == tuple(some)


def test_a_drift_does_not_hide_in_what_evaporates_before_each_top_off() -> None:
    """0.5 L of 40 L a day raise the meter by up to 9 % in a week; a stone that dissolves adds 0.8 % a day."""
    room, tank = first_rack()
    tank = replace(tank, litres=40.0)
    room = replace(room, tanks={**room.tanks, tank.id: tank})
    world = World()
    for back in range(70, -1, -1):
        world.evaporate(0.5)
        world.mass *= 1.008 if back <= 14 else 1.0
        if back % 7 in (0, 3):
            world.read(back)
        if back % 7 == 5:
            world.fill(back, None, 0.0)
    acts = [
        (back, replace(what, tank=tank.id)) for back, what in world.written if isinstance(what, Reading | WaterAdded)
    ]
    found = rack_findings(room, past_of(*acts), tank.rack, TODAY)
    assert [finding.kind for finding in found] == ["drift"]
    assert found[0].before == pytest.approx(200, rel=0.01)
    assert (TODAY - found[0].day).days >= 3


WATERS = {
    "hard": SourceWater("hard", "Hard", tds=900.0, gh=30.0),
    "twice": SourceWater("twice", "Twice as hard as the tank", tds=360.0),
    "ec": SourceWater("ec", "EC", conductivity=500.0),
}


@pytest.mark.parametrize(
    ("quantity", "source", "holds"),
    [
        ("tds", "hard", 900),
        ("gh", "hard", 30),
        ("kh", "hard", None),
        ("conductivity", "hard", 1800),
        ("tds", "ec", 250),
        ("conductivity", "ec", 500),
        ("conductivity", None, 0),
        ("nitrate", None, 0),
        ("nitrate", "hard", None),
        ("ph", None, None),
        ("tds", "river", None),
    ],
)
def test_what_a_water_holds_is_known_by_its_values_or_by_the_rooms_factor_of_a_half(
    quantity: str, source: str | None, holds: float | None
) -> None:
    room = replace(first_rack()[0], waters=WATERS)
    assert value_in(room, quantity, source) == holds  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("source", "litres", "read", "kinds"),
    [
        ("hard", 5, 225, ["drift"]),
        (None, 5, 225, ["step"]),
        ("river", 5, 225, ["step"]),
        ("twice", 25, 180 + 90, ["drift"]),
    ],
)
def test_a_rise_that_a_top_off_with_a_known_water_explains_is_no_step(
    source: str | None, litres: float, read: float, kinds: list[str]
) -> None:
    """5 L of water at 900 mg/L in 100 L raise 180 mg/L by 45, a quarter; pure water raises nothing.

    25 L of water at 360 mg/L bring 9 g, 90 mg/L of the full tank, on top of what stays there when 25 L evaporate.

    The tank has left its own level all the same, and that is said.
    """
    room, tank = first_rack()
    tank = replace(tank, litres=100.0)
    room = replace(room, tanks={**room.tanks, tank.id: tank}, waters=WATERS)
    days = twice_a_week(15)
    acts: list[tuple[int, What]] = [
        (day, Reading(tank.id, "tds", value)) for day, value in zip(days, [*steady(180, 14), read], strict=True)
    ]
    history = past_of(*acts, (1, WaterAdded(tank.id, litres, source)))
    assert [finding.kind for finding in rack_findings(room, history, tank.rack, TODAY)] == kinds


@pytest.mark.parametrize(("last", "kinds"), [(144, []), (240, ["step"])])
def test_a_large_change_for_a_known_water_explains_what_it_leads_to_and_nothing_else(
    last: float, kinds: list[str]
) -> None:
    """Half of 180 mg/L changed for water of 108 mg/L gives 144: 240 after it is a wrong batch."""
    room, tank = first_rack()
    room = replace(room, waters={"mixed": SourceWater("mixed", "Mixed", tds=108.0)})
    days = twice_a_week(15)
    acts: list[tuple[int, What]] = [
        (day, Reading(tank.id, "tds", value)) for day, value in zip(days, [*steady(180, 14), last], strict=True)
    ]
    history = past_of(*acts, (1, WaterChanged(tank.id, tank.litres / 2, "mixed")))
    assert [finding.kind for finding in rack_findings(room, history, tank.rack, TODAY)] == kinds


def stepped(room: Room, racks: Sequence[str], factors: Sequence[float], most: int = 4) -> list[tuple[int, What]]:
    """Readings of the first tanks of some racks, the last of which is so many times the others in each rack."""
    acts: list[tuple[int, What]] = []
    for rack, factor in zip(racks, factors, strict=True):
        for tank in [each.id for each in room.tanks.values() if each.rack == rack][:most]:
            values = [*steady(180, 14), 180 * factor]
            days = twice_a_week(15)
            acts += [(day, Reading(tank, "tds", value)) for day, value in zip(days, values, strict=True)]
    return acts


def breeding_room() -> tuple[Room, list[str]]:
    room = load_room(room_path("breeding_room"))
    return room, [rack.id for rack in room.racks][:3]


@pytest.mark.parametrize("most", [4, 2])
def test_the_same_step_in_several_racks_on_one_day_is_one_finding_and_one_flag(most: int) -> None:
    room, racks = breeding_room()
    history = past_of(*stepped(room, racks, (1.2, 1.22, 1.18), most))
    (finding,) = [each for each in room_findings(room, history, TODAY) if each.kind != "target"]
    assert (finding.kind, len(finding.tanks)) == ("rack_step", 3 * most)
    assert f"moved in {3 * most} tanks of 3 racks at once" in finding_text(room, finding)
    for rack in racks:
        assert rack_findings(room, history, rack, TODAY) == (finding,)
    kinds = [flag.kind for flag in flags(room, history, MORNING) if flag.kind.startswith("water")]
    assert [kind for kind in kinds if kind != "water_target"] == ["water_of_rack"]


@pytest.mark.parametrize("factors", [(1.2, 0.8), (1.15, 1.6)])
def test_steps_that_go_apart_or_differ_much_stay_findings_of_each_rack(factors: tuple[float, float]) -> None:
    room, racks = breeding_room()
    history = past_of(*stepped(room, racks[:2], factors))
    found = [each for each in room_findings(room, history, TODAY) if each.kind == "rack_step"]
    assert sorted(len(each.tanks) for each in found) == [4, 4]


def test_a_meter_that_loses_its_calibration_is_one_drift_of_the_room_though_racks_show_it_on_different_days() -> None:
    room, racks = breeding_room()
    acts: list[tuple[int, What]] = []
    for rack, late in zip(racks, (0, 1, 2), strict=True):
        for tank in [each.id for each in room.tanks.values() if each.rack == rack][:4]:
            for number, day in enumerate(twice_a_week(24)):
                read = steady(180, 24)[number] * 0.99 ** max(0, number - 15)
                acts.append((day + late, Reading(tank, "tds", round(read))))
    found = [each for each in room_findings(room, past_of(*acts), TODAY) if each.kind == "rack_drift"]
    assert [len(each.tanks) for each in found] == [12]
