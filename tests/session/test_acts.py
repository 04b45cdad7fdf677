"""Acts of a session at their edges: what waits is never lost, undo takes one's own act of today."""

from __future__ import annotations

from datetime import timedelta

import pytest

from schedules.ledger import Entry, LedgerFault, Observed, Posting, Served, Skipped
from schedules.room import Room
from schedules.round import RoundServing, Stop
from schedules.session.session import Session
from tests.session.conftest import TODAY, Clock, Moody, due


def stop_at(session: Session, tank: str) -> Stop:
    return next(stop for stop in session.sheet.stops if stop.tank == tank)


def serving_of(session: Session, tank: str, feed: str) -> RoundServing:
    return next(each for each in stop_at(session, tank).servings if each.due.feed == feed)


def written(ledger: Moody) -> list[Entry]:
    return [entry for entry in ledger.everything() if not isinstance(entry.what, Posting)]


def test_acts_whose_retry_fails_too_wait_on_in_their_order(session: Session, ledger: Moody) -> None:
    ledger.locked = True
    session.finish(stop_at(session, "a2"))
    session.note("a1", "calm")

    for _ in range(3):
        with pytest.raises(LedgerFault):
            session.save_again()
    assert [act.kind for act in session.unsaved.acts] == ["finish", "note"]

    ledger.locked = False
    session.save_again()

    assert [type(entry.what).__name__ for entry in written(ledger)] == ["Served", "Noted"]


def test_a_skip_that_waits_settles_its_serving_as_a_mark_does(session: Session, ledger: Moody) -> None:
    ledger.locked = True
    session.skip("a2", ["dust"], "cloudy")

    assert not session.is_open(stop_at(session, "a2"))
    assert session.finish(stop_at(session, "a2")).result == "nothing_due"


def test_an_act_keeps_the_moment_and_the_keeper_it_was_done_by(session: Session, ledger: Moody, clock: Clock) -> None:
    ledger.locked = True
    session.note("a1", "calm")
    ledger.locked = False
    clock.now = TODAY + timedelta(hours=2)
    session.save_again()

    assert [(entry.at, entry.by) for entry in written(ledger)] == [(TODAY, "Mara")]


def test_undo_leaves_acts_of_other_days_and_of_other_keepers_alone(
    session: Session, room: Room, ledger: Moody, clock: Clock
) -> None:
    other = Session(room, ledger, clock, "Ole", posts="today")
    other.note("a1", "by Ole")
    session.note("a1", "by Mara")
    clock.now = TODAY + timedelta(days=1)
    tomorrow = Session(room, ledger, clock, "Mara", posts="nothing")

    assert tomorrow.undo().result == "nothing_to_undo"
    assert session.undo().act is not None
    assert session.undo().result == "nothing_to_undo"
    assert [entry.by for entry in other.history.entries] == ["Ole"]


def test_undo_takes_back_what_was_written_today_about_a_past_day(session: Session) -> None:
    session.give("a1", "flake", day=session.day - timedelta(days=9))

    outcome = session.undo()

    assert outcome.done and outcome.act is not None
    assert outcome.act.day == session.day - timedelta(days=9)
    assert session.undo().result == "nothing_to_undo"


def test_a_mark_that_was_taken_back_is_made_and_taken_back_again(session: Session, ledger: Moody) -> None:
    for _ in range(3):
        assert session.finish(stop_at(session, "a2")).result == "recorded"
        assert not session.is_open(stop_at(session, "a2"))
        assert session.undo().result == "recorded"
        assert session.is_open(stop_at(session, "a2"))

    assert len(written(ledger)) == 6


def test_a_serving_in_another_amount_takes_as_much_more_of_the_ration(session: Session) -> None:
    outcome = session.give("a2", "dust", 15.0)

    assert outcome.act is not None
    (what,) = outcome.act.what
    assert isinstance(what, Served)
    # Half as much again as the ten measures that take half of the ration.
    assert what.amount == 15
    assert what.part == pytest.approx(0.75)


def test_a_serving_given_as_due_is_the_one_that_is_shown_not_the_one_posted(
    room: Room, ledger: Moody, clock: Clock
) -> None:
    # A powder that has left the stock since took most of the day's fine feed.
    gone = Served("a1", "bought up", "morning", 1.0, "spoon", 10.0, 0.7, planned=False)
    ledger.append([gone], day=TODAY.date(), at=TODAY, by="Ole")
    session = Session(room, ledger, clock, "Mara", posts="today")
    shown = serving_of(session, "a1", "dust")
    assert shown.held is None
    assert shown.due.part < 0.6

    outcome = session.give("a1", "dust")

    assert outcome.act is not None
    (what,) = outcome.act.what
    assert isinstance(what, Served)
    assert what.amount_mg == pytest.approx(shown.due.amount_mg)


def test_what_is_held_back_takes_no_place_beside_others_and_no_minutes(room: Room) -> None:
    ledger = Moody()
    eve = TODAY.date() - timedelta(days=1)
    servings = (due(room, "a1", "flake", 0.6), due(room, "a1", "dust", 0.6))
    ledger.append([Observed("a1", "flake", "most")], day=eve, at=TODAY - timedelta(days=1), by="Ole")
    ledger.append([Posting(TODAY.date(), (servings,) + ((),) * 20)], day=TODAY.date(), at=TODAY, by=None)
    session = Session(room, ledger, Clock(), "Mara", posts="today")

    flake, dust = serving_of(session, "a1", "flake"), serving_of(session, "a1", "dust")

    assert flake.held is not None and dust.held is None
    assert stop_at(session, "a1").minutes_left == dust.minutes > 0


def test_of_several_due_feeds_the_one_named_is_skipped(session: Session, ledger: Moody) -> None:
    session.skip("a1", ["flake"], "cloudy")

    assert [(entry.what.tank, entry.what.feed) for entry in written(ledger) if isinstance(entry.what, Skipped)] == [
        ("a1", "flake")
    ]
    assert session.is_due(serving_of(session, "a1", "dust"))


def test_where_one_of_several_feeds_is_not_due_none_is_skipped(session: Session, ledger: Moody) -> None:
    outcome = session.skip("a2", ["dust", "flake"], "cloudy")

    assert (outcome.result, outcome.feeds) == ("not_due", ("flake",))
    assert written(ledger) == []


def test_a_note_of_blanks_is_no_note(session: Session, ledger: Moody) -> None:
    assert session.note("a1", " \n\t ").result == "no_text"
    assert written(ledger) == []


def test_what_somebody_else_marked_first_comes_back_with_their_entry(
    session: Session, room: Room, ledger: Moody, clock: Clock
) -> None:
    Session(room, ledger, clock, "Ole", posts="today").finish(stop_at(session, "a2"))

    outcome = session.finish(stop_at(session, "a2"))

    assert outcome.result == "already_marked"
    assert outcome.winner is not None and outcome.winner.by == "Ole"
    assert not session.is_open(stop_at(session, "a2"))


def test_a_session_that_posts_nothing_leaves_the_ledger_as_it_was(room: Room) -> None:
    ledger = Moody()

    session = Session(room, ledger, Clock(), "Mara", posts="nothing")

    assert (ledger.last_seq(), session.sheet.posted, session.sheet.stops) == (0, False, ())


def test_the_coming_days_are_planned_after_the_day_was_opened_alone(room: Room) -> None:
    ledger = Moody()
    session = Session(room, ledger, Clock(), "Mara", posts="today")
    alone = session.history.due(session.day)
    assert not session.knows_coming_days

    session.plan_coming_days()

    assert session.knows_coming_days
    assert session.history.due(session.day) == alone
