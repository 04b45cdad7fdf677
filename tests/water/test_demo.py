"""The invented breeding room has one tank that drifts and one rack with a wrong batch, and nothing else stands out."""

from __future__ import annotations

from datetime import timedelta

from demo_racks import room_path
from demo_racks.water import DRIFTING, WRONG_BATCH, water_past
from schedules.history import history_of
from schedules.ledger.stores.memory import MemoryLedger
from schedules.review.flags import flags
from schedules.room_file import load_room
from schedules.water.watch import room_findings
from tests.water.rooms import MORNING, TODAY


def test_the_drifting_tank_and_the_wrong_batch_are_found_and_nothing_else() -> None:
    room, ledger = load_room(room_path("breeding_room")), MemoryLedger()
    for days_ago, what in water_past():
        ledger.append([what], day=TODAY - timedelta(days=days_ago), at=MORNING, by="Mirela")
    history = history_of(ledger, TODAY)
    found = {(finding.kind, room.tanks[finding.tank].rack) for finding in room_findings(room, history, TODAY)}
    assert found == {("rack_step", WRONG_BATCH[0]), ("drift", room.tanks[DRIFTING[0]].rack)}
    flagged = [flag.kind for flag in flags(room, history, MORNING) if flag.kind.startswith("water")]
    assert flagged == ["water_of_rack", "water_drift"]
