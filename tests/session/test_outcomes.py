"""What each act comes to, as a whole value: the entries written, the tanks touched, who did it, what can be undone."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from typing import Any

from schedules.ledger import (
    Acknowledged,
    Came,
    Entry,
    Noted,
    Observed,
    Posting,
    Reason,
    Served,
    Sighting,
    Skipped,
    Undone,
)
from schedules.review.flags import Flag
from schedules.review.flags.evidence import Given
from schedules.review.missed import Missed
from schedules.room import Room
from schedules.session.outcome import Outcome
from schedules.session.session import Session
from schedules.session.unsaved import Act
from tests.session.conftest import TODAY, Clock, Moody, due

DAY = date(2026, 11, 25)


def stop_at(session: Session, tank: str) -> Any:
    return next(stop for stop in session.sheet.stops if stop.tank == tank)


def written(ledger: Moody) -> list[Entry]:
    return [entry for entry in ledger.everything() if not isinstance(entry.what, Posting)]


def acted(kind: Any, *what: Any, day: date = DAY, undone: tuple[Entry, ...] = ()) -> Act:
    return Act(kind, what, day, TODAY, "Mara", undone)


def recorded(act: Act, *tanks: str, undoable: bool = True) -> Outcome:
    return Outcome("recorded", "Mara", act, frozenset(tanks), undoable)


def a_flag(tank: str = "a1", extent: float = 1.2, day: date = DAY) -> Flag:
    return Flag("over_ration", "medium", tank, None, day, Given(()), "pause_fine", extent)


def test_a_serving_that_is_due(session: Session, room: Room) -> None:
    served = Served("a2", "dust", "morning", 10.0, "spoon", 10 * room.feeds["dust"].measure.mg, 0.5, planned=True)
    expected = replace(served, unit=room.feeds["dust"].measure.name)
    assert session.give("a2", "dust") == recorded(acted("give", expected), "a2")


def test_a_serving_that_a_rule_forbids_is_refused_with_the_feed_and_recorded_where_the_keeper_insists(
    session: Session, ledger: Moody
) -> None:
    session.give("a2", "dust")
    refused = session.give("a2", "dust")
    assert (refused.result, refused.by, refused.tanks, refused.feeds) == (
        "refused",
        "Mara",
        frozenset(("a2",)),
        ("dust",),
    )
    assert refused.refusal is not None and refused.refusal.rule == "again" and not refused.done
    insisted = session.give("a2", "dust", anyway=True)
    assert insisted.result == "recorded"
    assert [entry.what.broke for entry in written(ledger) if isinstance(entry.what, Served)] == [None, "again"]


def test_a_serving_of_a_past_day_is_about_that_day(session: Session, ledger: Moody) -> None:
    past = DAY - timedelta(days=3)
    outcome = session.give("a2", "flake", 1.0, day=past)
    assert outcome.act is not None and outcome.act.day == past
    assert [entry.day for entry in written(ledger)] == [past]
    assert session.give("a2", "flake", 1.0, day=past + timedelta(days=1)).result == "refused", "a gap of 2 days"


def test_a_serving_long_ago_is_held_against_what_was_given_then(session: Session) -> None:
    past = DAY - timedelta(days=200)
    assert session.give("a2", "flake", 1.0, day=past).done
    again = session.give("a2", "flake", 1.0, day=past)
    assert again.refusal is not None and again.refusal.rule == "again"


def test_skips_with_their_reason_cleaned(session: Session) -> None:
    because = Reason.other("water cloudy")
    drafts = [Skipped("a1", feed, "morning", because) for feed in ("dust", "flake")]
    assert session.skip("a1", ["dust", "flake"], " water\n cloudy ") == recorded(acted("skip", *drafts), "a1")
    nothing = Outcome("not_due", "Mara", tanks=frozenset(("a1",)))
    assert session.skip("a1", [], "why") == nothing


def test_what_was_missed_is_let_go_on_its_own_day(session: Session, room: Room) -> None:
    past = DAY - timedelta(days=1)
    gap = Missed(past, due(room, "a1", "dust", 0.6), "fine", 1, 1, "let go", None)
    expected = acted("let_go", Skipped("a1", "dust", "morning", Reason.other("away")), day=past)
    assert session.let_go(past, [gap], " away ") == recorded(expected, "a1")


def test_what_was_seen_of_feed_and_animals(session: Session) -> None:
    assert session.observe("a1", "dust", "some") == recorded(acted("observe", Observed("a1", "dust", "some")), "a1")
    assert session.came("a2", "dust", "slowly") == recorded(acted("came", Came("a2", "dust", "slowly")), "a2")
    hatch = Sighting("a1", "hatch", "shrimplet", 30, False)
    seen = session.saw(hatch, day=DAY - timedelta(days=2))
    assert (seen.result, seen.act, seen.undoable) == (
        "recorded",
        acted("saw", hatch, day=DAY - timedelta(days=2)),
        True,
    )


def test_a_sighting_in_doubt_is_not_written_until_the_keeper_insists(session: Session, ledger: Moody) -> None:
    many = Sighting("a1", "dead", "adult", 500, True)
    doubted = session.saw(many)
    assert (doubted.result, doubted.tanks, written(ledger)) == ("refused", frozenset(("a1",)), [])
    assert doubted.doubt is not None and doubted.doubt.kind == "more_than_there"
    assert session.saw(many, anyway=True).done


def test_a_note_about_a_tank_and_about_the_room(session: Session) -> None:
    assert session.note("a1", " a\tshell ") == recorded(acted("note", Noted("a1", "a shell")), "a1")
    assert session.note(None, "warm") == recorded(acted("note", Noted(None, "warm")))
    assert session.note("a1", "  ") == Outcome("no_text", "Mara", tanks=frozenset(("a1",)))
    assert session.note(None, "") == Outcome("no_text", "Mara")


def test_undo_names_what_it_took_back_and_cannot_be_undone(session: Session, ledger: Moody) -> None:
    session.finish(stop_at(session, "a1"))
    entries = tuple(written(ledger))
    assert len(entries) == 2
    outcome = session.undo()
    assert outcome == recorded(acted("undo", Undone(entries[0].act), undone=entries), "a1", undoable=False)
    assert session.undo() == Outcome("nothing_to_undo", "Mara")


def test_an_act_that_waits_says_why_and_of_which_tanks_and_is_dropped_by_undo(session: Session, ledger: Moody) -> None:
    session.note("a2", "calm")
    entries = tuple(written(ledger))
    ledger.locked = True
    act = acted("undo", Undone(entries[0].act), undone=entries)
    fault = "the ledger is locked by another program"
    kept = Outcome("kept", "Mara", act, frozenset(("a2",)), False, fault=fault)
    assert session.undo() == kept and kept.kept and not kept.done
    behind = acted("note", Noted("a1", "b"))
    assert session.note("a1", "b") == Outcome("kept", "Mara", behind, frozenset(("a1",)), True)
    assert session.undo() == Outcome("dropped", "Mara", behind, frozenset(("a1",)))
    ledger.locked = False
    assert session.save_again() == Outcome("saved", "Mara", tanks=frozenset(("a2",)), count=1)
    assert session.save_again() is None
    assert session.history.entries == ()


def test_of_acts_that_waited_those_somebody_else_did_come_back(session: Session, room: Room, ledger: Moody) -> None:
    ledger.locked = True
    session.finish(stop_at(session, "a2"))
    session.note("a1", "b")
    ledger.locked = False
    Session(room, ledger, session.clock, "Ole", posts="today").give("a2", "dust")
    outcome = session.save_again()
    assert outcome is not None and (outcome.count, outcome.tanks) == (2, frozenset(("a1", "a2")))
    assert [each.act.kind for each in outcome.beaten] == ["finish"]
    assert [entry.by for entry in written(ledger)] == ["Ole", "Mara"]


def test_what_no_ledger_could_hold_is_said_and_not_kept(session: Session) -> None:
    outcome = session.give("a1", "dust", float("inf"), anyway=True)
    assert (outcome.result, outcome.tanks) == ("cannot_be_written", frozenset())
    assert outcome.fault and not session.unsaved


def test_a_flag_is_set_aside_on_its_own_day_and_only_once(session: Session, ledger: Moody) -> None:
    past = DAY - timedelta(days=2)
    flag = a_flag(day=past)
    seen = Acknowledged("a1", None, "over_ration", "medium", 1.2)
    assert session.acknowledge(flag) == recorded(acted("acknowledge", seen, day=past), "a1")
    (entry,) = written(ledger)
    again = Outcome("already_marked", "Mara", tanks=frozenset(("a1",)), winner=entry)
    assert session.acknowledge(flag) == again
    assert session.seen_by(flag) == ("Mara",)
    assert session.standing([flag, a_flag("a2")]) == (a_flag("a2"),)
    assert session.standing([replace(flag, extent=9.0)]) == (replace(flag, extent=9.0),), "there is more of it now"


def test_a_flag_is_taken_back_whoever_set_it_aside(session: Session, room: Room, ledger: Moody, clock: Clock) -> None:
    flag = a_flag()
    Session(room, ledger, clock, "Ole", posts="today").acknowledge(flag)
    session.catch_up()
    entries = tuple(written(ledger))
    outcome = session.withdraw(flag)
    assert outcome == recorded(acted("withdraw", Undone(entries[0].act), undone=entries), "a1", undoable=False)
    assert session.seen_by(flag) == ()
    assert session.withdraw(flag) == Outcome("nothing_to_undo", "Mara", tanks=frozenset(("a1",)))


def test_a_flag_set_aside_in_an_act_that_waits_is_taken_back_unwritten(session: Session, ledger: Moody) -> None:
    flag = a_flag()
    ledger.locked = True
    session.acknowledge(flag)
    assert session.seen_by(flag) == ("Mara",)
    assert session.acknowledge(flag) == Outcome("already_marked", "Mara", tanks=frozenset(("a1",)))
    outcome = session.withdraw(flag)
    seen = Acknowledged("a1", None, "over_ration", "medium", 1.2)
    assert outcome == Outcome("dropped", "Mara", acted("withdraw", seen), frozenset(("a1",)))
    assert (session.seen_by(flag), len(session.unsaved)) == ((), 0)


def test_a_flag_about_to_be_taken_back_stands_again_before_that_is_saved(session: Session, ledger: Moody) -> None:
    flag = a_flag()
    session.acknowledge(flag)
    ledger.locked = True
    assert session.withdraw(flag).kept
    assert session.seen_by(flag) == ()


def test_recent_acts_come_newest_first_and_are_ones_own_of_today(
    session: Session, room: Room, ledger: Moody, clock: Clock
) -> None:
    session.finish(stop_at(session, "a1"))
    Session(room, ledger, clock, "Ole", posts="today").note("a1", "by Ole")
    session.note("a2", "by Mara")
    session.note(None, "about the room")
    clock.now = TODAY - timedelta(days=1)
    session._write("note", [Noted("a1", "of yesterday")], DAY - timedelta(days=1))
    clock.now = TODAY
    found = session.recent()
    assert [act.tanks for act in found] == [frozenset(), frozenset(("a2",)), frozenset(("a1",))]
    assert [len(act.entries) for act in found] == [1, 1, 2]
    assert [act.number for act in found] == [act.entries[0].act for act in found]
    assert [act.tanks for act in session.recent("left")] == [frozenset(("a2",)), frozenset(("a1",))]
    assert session.recent("right") == ()


def test_several_acts_are_taken_back_each_as_its_own(session: Session) -> None:
    session.finish(stop_at(session, "a1"))
    session.note("a2", "calm")
    acts = session.recent()
    outcome = session.take_back(acts)
    undone = (*acts[0].entries, *acts[1].entries)
    expected = acted("undo", Undone(acts[1].number), undone=undone)
    assert outcome == recorded(expected, "a1", "a2", undoable=False)
    assert session.recent() == () and session.history.entries == ()
    assert session.take_back(()) == Outcome("nothing_to_undo", "Mara")


def test_taking_back_ends_at_an_act_that_somebody_took_back_already(session: Session, ledger: Moody) -> None:
    session.finish(stop_at(session, "a2"))
    session.note("a1", "calm")
    acts = session.recent()
    ledger.append([Undone(acts[0].number)], day=DAY, at=TODAY, by="Mara")
    outcome = session.take_back(acts)
    assert (outcome.result, outcome.undoable) == ("already_marked", False)
    assert [entry.act for entry in session.history.entries] == [acts[1].number], "the second was not tried"


def test_an_act_that_waits_takes_back_on_the_ledger_in_its_turn(session: Session, ledger: Moody) -> None:
    session.note("a1", "calm")
    acts = session.recent()
    ledger.locked = True
    outcome = session.take_back(acts)
    assert outcome.result == "kept" and outcome.act is not None and outcome.act.undone == acts[0].entries
    ledger.locked = False
    session.save_again()
    assert session.recent() == ()
