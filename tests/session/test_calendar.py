"""The coming weeks as events: which rounds, hatches and orders there are, when, and what each is about."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import date, datetime, timedelta
from pathlib import Path
from uuid import UUID, uuid5

import pytest

from schedules.leave import LeavePlan
from schedules.ledger import Posting, Sighting
from schedules.review.expected import Expected
from schedules.room_file import load_room_text
from schedules.session.calendar import Event, EventKind, calendar_events
from schedules.session.session import Session
from schedules.stock import Outlook
from tests.tui.rooms import TODAY, ZONE, Clock, day, due, make_session, room_text

DAY = timedelta(days=1)
MINUTES = {"dust": 3.0, "flake": 1.0, "bug": 2.5, "leaf": 0.5}


def text() -> str:
    """The room with minutes for each feed that no other feed has."""
    made = room_text()
    for feed, minutes in MINUTES.items():
        made = made.replace(f'id = "{feed}"\n', f'id = "{feed}"\nminutes = {minutes}\n')
    return made


@pytest.fixture(name="session")
def _session(tmp_path: Path) -> Iterator[Session]:
    session = make_session(tmp_path, text())
    yield session
    session.ledger.close()


def events(session: Session, kind: EventKind) -> list[Event]:
    return [event for event in calendar_events(session) if event.kind == kind]


def test_a_round_has_its_stops_and_the_handling_minutes_of_what_is_due(session: Session) -> None:
    morning, evening = events(session, "round")[:2]

    # Dust in three tanks, wafers in two, pellets in two: six tanks, for a1 gets two feeds.
    assert (morning.about, morning.stops, morning.minutes) == ("morning", 6, 3 * 3.0 + 2 * 2.5 + 2 * 1.0)
    assert morning.start == datetime(2026, 11, 25, 7, tzinfo=ZONE)
    assert morning.end == datetime(2026, 11, 25, 7, 16, tzinfo=ZONE)
    # Half a minute is shown as five: a shorter event is hard to see.
    assert (evening.about, evening.stops, evening.minutes) == ("evening", 1, 5)
    assert evening.start == datetime(2026, 11, 25, 19, tzinfo=ZONE)
    assert evening.end == datetime(2026, 11, 25, 19, 5, tzinfo=ZONE)


def test_there_is_a_round_on_each_posted_day_from_today_on_and_on_no_other(session: Session) -> None:
    days = [event.start.date() for event in events(session, "round") if isinstance(event.start, datetime)]

    assert days == sorted([TODAY + number * DAY for number in range(0, 28, 2)] * 2)


def test_rounds_of_a_plan_that_began_days_ago_are_on_its_own_days(session: Session) -> None:
    session.clock.now += 3 * DAY  # type: ignore[attr-defined]
    later = Session(session.file_room, session.ledger, session.clock, "Mara", posts="nothing")

    first = events(later, "round")[0]
    assert first.start == datetime(2026, 11, 29, 7, tzinfo=ZONE)


def test_what_is_due_in_a_tank_that_is_gone_takes_no_minutes(session: Session) -> None:
    without = text().replace('id = "q1"', 'id = "q2"')
    other = Session(load_room_text(without, "room.toml"), session.ledger, session.clock, "Mara", posts="nothing")

    morning = events(other, "round")[0]
    assert morning.minutes == 3 * 3.0 + 2 * 2.5 + 1.0


def test_without_a_plan_there_are_no_rounds(session: Session) -> None:
    session.clock.now += 60 * DAY  # type: ignore[attr-defined]
    later = Session(session.file_room, session.ledger, session.clock, "Mara", posts="nothing")

    assert events(later, "round") == []


def test_a_round_over_the_change_to_winter_time_lasts_its_minutes(session: Session) -> None:
    # Summer time ends in Vienna on 31 October 2027 at 3:00, which is 2:00 again.
    at_night = text().replace("at = 07:00:00", "at = 02:50:00")
    room = load_room_text(at_night, "room.toml")
    posting = Posting(date(2027, 10, 31), (tuple(due(room, "a1", "dust") for _ in range(10)),))
    clock = Clock(datetime(2027, 10, 31, 1, tzinfo=ZONE))
    session.ledger.append([posting], day=posting.start, at=clock.now, by=None)

    (night,) = events(Session(room, session.ledger, clock, "Mara", posts="nothing"), "round")
    assert isinstance(night.start, datetime)
    assert isinstance(night.end, datetime)
    assert night.end.timestamp() - night.start.timestamp() == 30 * 60
    assert (night.end.hour, night.end.minute, night.end.fold) == (2, 20, 1)


def test_a_hatch_covers_the_days_of_its_window_and_is_left_out_when_it_is_over(session: Session) -> None:
    (hatch,) = events(session, "hatch")

    assert isinstance(hatch.about, Expected)
    assert hatch.about.window is not None
    assert (hatch.start, hatch.end) == (hatch.about.window.first, hatch.about.window.last + DAY)
    last = hatch.about.window.last
    for now, kept in ((last, 1), (last + DAY, 0)):
        clock = Clock(datetime(now.year, now.month, now.day, 8, tzinfo=ZONE))
        later = Session(session.file_room, session.ledger, clock, "Mara", posts="nothing")
        assert len(events(later, "hatch")) == kept


def test_two_broods_seen_on_one_day_in_one_tank_are_two_events(session: Session) -> None:
    session.saw(Sighting("a1", "eyed", "adult", 1, True), day=day(2))
    session.saw(Sighting("a1", "berried", "adult", 2, True), day=day(2))
    found = events(session, "hatch")

    assert len(found) == len({event.uid for event in found}) == 3
    session.saw(Sighting("a1", "berried", "adult", 3, True), day=day(1))
    assert len({event.uid for event in events(session, "hatch")}) == 4, "another day is another hatch"
    found = events(session, "hatch")
    again = events(Session(session.file_room, session.ledger, session.clock, "Ben", posts="nothing"), "hatch")
    assert [event.uid for event in again] == [event.uid for event in found]


def test_ids_are_the_same_on_every_machine_and_in_every_version(session: Session) -> None:
    """A calendar that has the events already knows them by these ids, so they must never change."""
    session.weigh("dust", 0.05)
    known = {event.kind: event.uid for event in reversed(calendar_events(session))}

    place = "Cellar by the stairs\nEurope/Vienna\n"
    assert known == {
        kind: uuid5(UUID("2c1b7f52-1f43-4c0a-9d0e-6f0f6f8a7c11"), place + words)
        for kind, words in (
            ("round", "round\nmorning\n2026-11-25"),
            ("hatch", "hatch\nb2\n2026-11-16\n1"),
            ("order", "order\ndust"),
        )
    }


def test_an_order_is_for_the_day_until_which_it_has_to_be_made_but_never_for_a_past_one(session: Session) -> None:
    session.weigh("dust", 0.05)
    (late,) = events(session, "order")
    assert (late.start, late.end) == (TODAY, TODAY + DAY)

    session.weigh("dust", 3.0)
    (order,) = events(session, "order")
    assert isinstance(order.about, Outlook)
    assert (order.about.feed, order.end) == ("dust", order.start + DAY)
    by = session.stock().orders[0].order
    assert by is not None
    assert order.start == by.by > TODAY
    assert order.uid == late.uid


def test_an_order_further_ahead_than_sixty_days_is_left_out(session: Session) -> None:
    session.weigh("dust", 3.0)
    order = session.stock().orders[0].order
    assert order is not None
    room = session.file_room
    ahead = (order.by - TODAY).days

    def ordered_in(days: int) -> list[Event]:
        """The events where the feed takes so many days less (or more) to come that it is ordered in so many days."""
        feed = room.feeds["dust"]
        lead = feed.packs.lead_days - (days - ahead)
        feeds = {**room.feeds, "dust": replace(feed, packs=replace(feed.packs, lead_days=lead))}
        return events(
            Session(replace(room, feeds=feeds), session.ledger, session.clock, "Mara", posts="nothing"), "order"
        )

    assert [event.start for event in ordered_in(60)] == [TODAY + 60 * DAY]
    assert ordered_in(61) == []


def test_events_are_in_the_order_of_their_days(session: Session) -> None:
    session.weigh("dust", 0.05)
    found = calendar_events(session)
    days = [event.start.date() if isinstance(event.start, datetime) else event.start for event in found]

    assert {event.kind for event in found} == {"round", "hatch", "order"}
    assert days == sorted(days)
    assert [event.kind for event in found[:3]] == ["order", "round", "round"]


def test_two_times_away_are_two_events(session: Session) -> None:
    visit = (due(session.room, "a1", "dust"),)
    for first in (TODAY + 2 * DAY, TODAY + 9 * DAY):
        session.accept_leave("Ida", LeavePlan(first, (visit, (), visit)))
    found = events(session, "away")

    assert [event.start for event in found] == [TODAY + 2 * DAY, TODAY + 9 * DAY]
    assert len({event.uid for event in found}) == 2
