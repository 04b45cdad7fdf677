"""`rackround calendar` writes a calendar that the icalendar library, a program of its own, reads as it is meant."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

import icalendar
import pytest

from tests.tui.rooms import make_session, room_text
from tui.cli.main import run

VIENNA = ZoneInfo("Europe/Vienna")


@pytest.fixture
def room(tmp_path: Path) -> Path:
    path = tmp_path / "room.toml"
    path.write_text(room_text(), encoding="utf-8")
    make_session(tmp_path).ledger.close()
    return path


def calendar_of(room: Path, now: str = "2026-11-25T07:10") -> list[icalendar.Event]:
    file = room.with_suffix(".ics")
    assert run(["calendar", str(room), str(file), "--now", now]) == 0
    return icalendar.Calendar.from_ical(file.read_bytes()).events


def rounds(events: list[icalendar.Event]) -> list[Any]:
    return [event for event in events if isinstance(event.start, datetime)]


def test_every_line_is_as_the_standard_asks(room: Path) -> None:
    calendar_of(room)
    content = room.with_suffix(".ics").read_bytes()

    # RFC 5545, 3.1: lines end with CRLF and are at most 75 octets long.
    lines = content.split(b"\r\n")
    assert max(len(line) for line in lines) <= 75
    assert not any(b"\n" in line or b"\r" in line for line in lines)
    assert lines[0] == b"BEGIN:VCALENDAR"
    assert lines[-2:] == [b"END:VCALENDAR", b""]


def test_a_round_begins_at_its_time_in_the_rooms_zone(room: Path) -> None:
    first = min(rounds(calendar_of(room)), key=lambda event: event.start)

    assert first.start == datetime(2026, 11, 25, 7, tzinfo=VIENNA)
    assert first.start.astimezone(UTC).hour == 6
    assert first.end > first.start
    assert "Morning round" in str(first["summary"])


def test_a_round_after_the_change_to_summer_time_is_an_hour_earlier_in_utc(room: Path) -> None:
    events = rounds(calendar_of(room, "2027-03-20T07:10"))
    by_day = {event.start.date(): event.start.astimezone(UTC).hour for event in events if event.start.hour == 7}

    # Summer time begins on 28 March 2027.
    assert {hour for day, hour in by_day.items() if day < date(2027, 3, 28)} == {6}
    assert {hour for day, hour in by_day.items() if day >= date(2027, 3, 28)} == {5}


def test_no_two_events_share_an_id_and_the_same_event_keeps_its_own(room: Path) -> None:
    today = calendar_of(room)
    tomorrow = calendar_of(room, "2026-11-26T07:10")
    ids = [str(event["uid"]) for event in today]

    assert len(set(ids)) == len(ids)
    later = {str(event["uid"]): event.start for event in rounds(tomorrow)}
    kept = {str(event["uid"]): event.start for event in rounds(today) if str(event["uid"]) in later}
    assert len(kept) > 10
    assert kept == {uid: later[uid] for uid in kept}


def test_a_hatch_covers_its_window_and_blocks_nobody(room: Path) -> None:
    run(["saw", str(room), "a2", "berried", "--heads", "1", "--on", "2026-11-20", "--now", "2026-11-25T07:10"])
    hatch = next(event for event in calendar_of(room) if "Hatch expected" in str(event["summary"]))

    assert not isinstance(hatch.start, datetime)
    assert hatch.end - hatch.start >= timedelta(days=4)
    assert hatch["transp"] == "TRANSPARENT"


def test_an_order_stands_on_the_day_until_which_it_has_to_be_made(room: Path) -> None:
    run(["weighed", str(room), "dust", "0.05", "--now", "2026-11-25T07:10"])
    order = next(event for event in calendar_of(room) if str(event["summary"]).startswith("Order"))

    assert str(order["summary"]) == "Order Nettle dust"
    assert order.start == date(2026, 11, 25)


def test_a_name_with_signs_of_the_format_is_only_text(room: Path) -> None:
    text = room.read_text("utf-8").replace('name = "Nettle dust"', 'name = "Dust; a,b\\\\n END:VEVENT"')
    room.write_text(text, encoding="utf-8")
    run(["weighed", str(room), "dust", "0.05", "--now", "2026-11-25T07:10"])
    order = next(event for event in calendar_of(room) if str(event["summary"]).startswith("Order"))

    assert str(order["summary"]) == "Order Dust; a,b\\n END:VEVENT"
