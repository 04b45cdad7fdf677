"""The invented breeding room has one tank that drifts and one rack with a wrong batch, and nothing else stands out."""

from __future__ import annotations

from datetime import timedelta

import pytest

from demo_racks import room_path
from demo_racks.water import DRIFTING, SOLIDS, WRONG_BATCH, water_past
from schedules.history import History, history_of
from schedules.ledger.stores.memory import MemoryLedger
from schedules.review.flags import flags
from schedules.room import Room
from schedules.room_file import load_room
from schedules.water.makeup import rack_make_up
from schedules.water.watch import room_findings
from tests.water.rooms import MORNING, TODAY


def demo() -> tuple[Room, History]:
    room, ledger = load_room(room_path("breeding_room")), MemoryLedger()
    for days_ago, what in water_past():
        ledger.append([what], day=TODAY - timedelta(days=days_ago), at=MORNING, by="Mirela")
    return room, history_of(ledger, TODAY)


def test_the_drifting_tank_and_the_wrong_batch_are_found_and_nothing_else() -> None:
    room, history = demo()
    found = {(finding.kind, room.tanks[finding.tank].rack) for finding in room_findings(room, history, TODAY)}
    assert found == {("rack_step", WRONG_BATCH[0]), ("drift", room.tanks[DRIFTING[0]].rack)}
    flagged = [flag.kind for flag in flags(room, history, MORNING) if flag.kind.startswith("water")]
    assert flagged == ["water_of_rack", "water_drift"]


def test_make_up_water_is_pure_for_what_evaporates_and_salted_for_the_tank_that_is_too_soft() -> None:
    """0.4 L a day since two days ago in each of the tanks that are topped off; GH 5 where 6 to 8 are wanted."""
    room, history = demo()
    pure, salted = (
        {
            tank: litres
            for batch in rack_make_up(room, history, TODAY).batches
            if bool(batch.salts) == salts
            for tank, litres in batch.tanks
        }
        for salts in (False, True)
    )
    assert pure == {tank: pytest.approx(0.8) for tank in SOLIDS}
    assert list(salted) == ["w7"]
