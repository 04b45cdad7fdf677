"""`rackround calendar` writes a calendar that the icalendar library, a program of its own, reads as it is meant."""

from __future__ import annotations

import json
import re
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


LAMPS = """\
[[chores]]
id = "lamps"
name = "Dust the lamps"
each = "rack"
rule = "FREQ=WEEKLY;BYDAY=MO"
from = 2026-11-01
within = 1
minutes = 12
"""


def titled(events: list[icalendar.Event], words: str) -> list[icalendar.Event]:
    return sorted((event for event in events if words in str(event["summary"])), key=lambda event: event.start)


def test_a_chore_stands_on_each_of_its_days_and_keeps_its_id(room: Path) -> None:
    room.write_text(room_text(also=LAMPS), encoding="utf-8")
    run(["did", str(room), "lamps", "--on", "2026-11-23", "--now", "2026-11-25T07:10"])

    lamps = titled(calendar_of(room), "Dust the lamps")
    a_day_later = titled(calendar_of(room, "2026-11-26T07:10"), "Dust the lamps")

    # The Mondays of the 28 days from 25 November 2026 on.
    assert [event.start for event in lamps] == [
        date(2026, 11, 30),
        date(2026, 12, 7),
        date(2026, 12, 14),
        date(2026, 12, 21),
    ]
    assert all(event.end - event.start == timedelta(days=1) for event in lamps)
    assert str(lamps[0]["summary"]) == "Dust the lamps: rack Wall rack, 12 min"
    assert [str(event["uid"]) for event in lamps] == [str(event["uid"]) for event in a_day_later][:4]


def test_chores_of_several_tanks_on_a_day_are_one_event_that_names_them(room: Path) -> None:
    text = LAMPS.replace('each = "rack"', 'each = "tank"\ntanks = ["a1", "b2"]')
    room.write_text(room_text(also=text), encoding="utf-8")

    lamps = titled(calendar_of(room), "Dust the lamps")

    # Never done since 1 November: late today, then on Mondays.
    assert [event.start.day for event in lamps] == [25, 30, 7, 14, 21]
    assert {str(event["summary"]) for event in lamps} == {"Dust the lamps: 2 tanks, 24 min"}
    assert all("a1, b2" in str(event["description"]) for event in lamps)


AWAY = ("--from", "2026-11-28", "--to", "2026-12-07", "--helper", "Aunt Ida")


def leave_visits(room: Path, capsys: pytest.CaptureFixture[str]) -> dict[tuple[str, str], set[str]]:
    """What `leave --json` says: the tanks that are fed, by day and round."""
    capsys.readouterr()
    assert run(["leave", str(room), *AWAY, "--post", "--json", "--now", "2026-11-25T07:10"]) == 0
    found: dict[tuple[str, str], set[str]] = {}
    for visit in json.loads(capsys.readouterr().out)["visits"]:
        for each in visit["servings"]:
            found.setdefault((visit["date"], each["round"]), set()).add(each["tank"])
    return found


def test_on_days_away_the_rounds_are_the_helpers_visits(room: Path, capsys: pytest.CaptureFixture[str]) -> None:
    before = {str(event["uid"]): event for event in rounds(calendar_of(room))}
    visits = leave_visits(room, capsys)

    events = calendar_of(room)

    away = [event for event in rounds(events) if date(2026, 11, 28) <= event.start.date() <= date(2026, 12, 7)]
    found = {
        (event.start.date().isoformat(), str(event["summary"]).split()[0].lower(), str(event["summary"]).split(": ")[1])
        for event in away
    }
    assert found and len(away) < sum(
        date(2026, 11, 28) <= each.start.date() <= date(2026, 12, 7) for each in before.values()
    )
    assert {(day, walk, int(tanks.split()[0])) for day, walk, tanks in found} == {
        (day, walk, len(tanks)) for (day, walk), tanks in visits.items()
    }
    assert all("(Aunt Ida)" in str(event["summary"]) for event in away)
    later = ("--from", "2026-11-29", *AWAY[2:])
    run(["leave", str(room), *later, "--post", "--now", "2026-11-25T07:10"])
    ids = {event.start: str(event["uid"]) for event in [*before.values(), *events]}
    assert all(ids.get(event.start, event["uid"]) == event["uid"] for event in rounds(calendar_of(room)))
    others = [event for event in rounds(events) if event not in away]
    assert all("Ida" not in str(event["summary"]) for event in others)


def test_the_days_away_are_one_event_with_the_helpers_name(room: Path, capsys: pytest.CaptureFixture[str]) -> None:
    visits = leave_visits(room, capsys)

    event, *others = titled(calendar_of(room), "Away")
    later, *_ = titled(calendar_of(room, "2026-12-02T07:10"), "Away")

    assert others == []
    assert (event.start, event.end) == (date(2026, 11, 28), date(2026, 12, 8))
    assert str(event["summary"]) == "Away: Aunt Ida feeds"
    named = re.findall(r"\d+ (?:Nov|Dec)", str(event["description"]))
    days = sorted({date.fromisoformat(day) for day, _ in visits})
    assert named == [f"{day.day} {day:%b}" for day in days]
    assert later["uid"] == event["uid"]


def test_a_withdrawn_leave_plan_leaves_the_calendar(room: Path, capsys: pytest.CaptureFixture[str]) -> None:
    leave_visits(room, capsys)
    assert run(["leave", str(room), "--withdraw", "--now", "2026-12-01T07:10"]) == 0

    events = calendar_of(room, "2026-12-01T08:00")

    assert titled(events, "Ida") == []
