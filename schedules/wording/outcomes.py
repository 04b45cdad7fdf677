"""What an act came to, in one line, and the acts that wait to be saved. Plain text."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import timedelta
from typing import Final

from schedules.formatting import clock_text, counted, date_text
from schedules.ledger import (
    Acknowledged,
    Away,
    Came,
    ChoreMark,
    Entry,
    Noted,
    Observed,
    Reading,
    SaltAdded,
    Served,
    Skipped,
    Undone,
    WaterAdded,
    WaterChanged,
)
from schedules.ledger.declaration import kind_of
from schedules.room import Room
from schedules.room.water.quantities import reading_text
from schedules.round.doses import Doses
from schedules.session.outcome import Outcome
from schedules.session.unsaved import Act, ActKind, Beaten
from schedules.wording.chores.chores import next_text
from schedules.wording.doses import given_text
from schedules.wording.entries import RoomNames, chore_name, feed_name, flag_name, marked_text, reason_text
from schedules.wording.refusals import doubt_text, refusal_text

Shorten = Callable[[str], str]
"""How a feed's name is shortened where a line is narrow."""
UNDONE_SHOWN: Final = 2
NAMED: Final = 2
"""So many feeds and chores left out at once are named; of more, how many: the reason has to stay in view."""


class _Words:
    """The room whose names are used, the mixes of its round (None: amounts in measures), how names are shortened."""

    def __init__(self, room: Room, doses: Doses | None, shorten: Shorten) -> None:
        self.room, self.doses, self.shorten = room, doses, shorten

    def feed(self, feed: str) -> str:
        return self.shorten(feed_name(self.room, feed))

    def dose(self, what: Served) -> str:
        return given_text(self.room, self.doses, what)


def outcome_text(room: Room, outcome: Outcome, doses: Doses | None = None, shorten: Shorten = str) -> str:
    """What an act came to. With `doses`, what was taken from a mix is given in mL."""
    words = _Words(room, doses, shorten)
    said = "" if outcome.act is None else _act_text(words, outcome.act)
    tank = next(iter(outcome.tanks), None)
    match outcome.result:
        case "recorded":
            coming = "" if outcome.chore is None else next_text(outcome.chore)
            return f"{said}; {coming}" if coming else said
        case "kept":
            because = f". {outcome.fault}" if outcome.fault else ""
            return f"NOT SAVED YET, kept and tried again: {said}{because}"
        case "refused":
            return _refused_text(words, outcome, tank)
        case "already_marked":
            return _already_text(room, outcome)
        case "cannot_be_written":
            return outcome.fault
        case "dropped":
            return f"taken back before it was saved: {said}"
        case "saved":
            return _saved_text(words, outcome)
    return _nothing_text(words, outcome, tank)


def act_text(room: Room, act: Act, doses: Doses | None = None, shorten: Shorten = str) -> str:
    """What an act does, in one line."""
    return _act_text(_Words(room, doses, shorten), act)


def _nothing_text(words: _Words, outcome: Outcome, tank: str | None) -> str:
    if outcome.result == "nothing_due":
        return f"{tank or 'room'}: nothing is due here any more"
    if outcome.result == "no_text":
        return "a note needs a text"
    if outcome.result == "not_here":
        return f"{tank or 'room'}: this chore is not done here"
    if outcome.result == "no_values":
        return f"{tank}: no value was given"
    if outcome.result == "not_due":
        feeds = ", ".join(words.feed(feed) for feed in outcome.feeds) or "no feed"
        return f"{tank}: {feeds} is not due today, so there is nothing to skip"
    return f"nothing of {outcome.by}'s to take back today"


def _refused_text(words: _Words, outcome: Outcome, tank: str | None) -> str:
    if outcome.doubt is not None:
        return doubt_text(words.room, outcome.doubt)
    feed = words.feed(outcome.feeds[0]) if outcome.feeds else ""
    because = "" if outcome.refusal is None else refusal_text(words.room, outcome.refusal, words.doses)
    return f"{tank}, {feed}: {because}"


def _already_text(room: Room, outcome: Outcome) -> str:
    winner = outcome.winner
    if winner is None:
        return "not recorded, already marked"
    return f"not recorded, already marked by {_who(room, winner)}: {marked_text(room, winner)}"


def _saved_text(words: _Words, outcome: Outcome) -> str:
    saved = f"saved now: {outcome.count - sum(each.whole for each in outcome.beaten)} of {outcome.count}"
    beaten = "; ".join(_beaten_text(words, each) for each in outcome.beaten)
    return f"{saved}; somebody else had already marked: {beaten}" if beaten else saved


def _beaten_text(words: _Words, beaten: Beaten) -> str:
    names = dict.fromkeys(_who(words.room, winner) for winner in beaten.winners)
    return f"{_act_text(words, beaten.act)} ({', '.join(names)})"


def _who(room: Room, winner: Entry) -> str:
    return f"{winner.by or 'the program'} at {clock_text(winner.at, room.zone)}"


def _act_text(words: _Words, act: Act) -> str:
    return _TEXTS[act.kind](words, act)


def _finish(_words: _Words, act: Act) -> str:
    held = sum(isinstance(what, Skipped) for what in act.what)
    chores = sum(isinstance(what, ChoreMark) for what in act.what)
    given = len(act.what) - held - chores
    parts = [f"{given} given"] if given or not chores else []
    parts += [f"{held} held back"] if held else []
    parts += [counted(chores, "chore")] if chores else []
    return f"{_tank(act)} done: {', '.join(parts)}"


def _give(words: _Words, act: Act) -> str:
    (what,) = (what for what in act.what if isinstance(what, Served))
    extra = f" as extra ({what.broke.replace('_', ' ')})" if what.broke else ""
    return f"{what.tank}: {words.dose(what)} of {words.feed(what.feed)} given{extra}"


def _skip(words: _Words, act: Act) -> str:
    skipped = {words.feed(what.feed): what.because for what in act.what if isinstance(what, Skipped)}
    chores = (what for what in act.what if isinstance(what, ChoreMark))
    skipped |= {chore_name(words.room, what.chore): what.because for what in chores if what.because is not None}
    names = ", ".join(skipped) if len(skipped) <= NAMED else f"{len(skipped)}"
    return f"{_tank(act)}: {names} skipped, {reason_text(next(iter(skipped.values())))}"


def _let_go(_words: _Words, act: Act) -> str:
    skipped = [what for what in act.what if isinstance(what, Skipped)]
    what = f"{len(skipped)} servings" if len(skipped) > 1 else _tank(act)
    return f"{what} of {date_text(act.day)} let go, {reason_text(skipped[0].because)}"


def _observe(words: _Words, act: Act) -> str:
    (what,) = (what for what in act.what if isinstance(what, Observed))
    return f"{what.tank}: leftovers of {words.feed(what.feed)}: {what.leftovers}"


def _came(words: _Words, act: Act) -> str:
    (what,) = (what for what in act.what if isinstance(what, Came))
    return f"{what.tank}: came to {words.feed(what.feed)}: {what.came}"


def _note(_words: _Words, act: Act) -> str:
    (what,) = (what for what in act.what if isinstance(what, Noted))
    return f"{what.tank or 'room'}: noted"


def _as_entry(words: _Words, act: Act) -> str:
    (what,) = act.what
    return kind_of(what).words(what, act.day, RoomNames(words.room))


def _read(words: _Words, act: Act) -> str:
    read = [what for what in act.what if isinstance(what, Reading)]
    tanks = {what.tank for what in read}
    if len(tanks) > 1:
        return f"{len(read)} readings in {len(tanks)} tanks, {date_text(act.day)}"
    listed = ", ".join(reading_text(what.quantity, what.value, words.room.units) for what in read)
    return f"{_tank(act)}: {listed}"


def _pour(words: _Words, act: Act) -> str:
    names = RoomNames(words.room)
    parts = [
        f"{names.volume(what.litres)} of {names.water(what.source)}"
        for what in act.what
        if isinstance(what, WaterAdded | WaterChanged)
    ]
    parts += [f"{what.grams:.4g} g of {names.salt(what.salt)}" for what in act.what if isinstance(what, SaltAdded)]
    how = "changed for" if any(isinstance(what, WaterChanged) for what in act.what) else "poured in:"
    return f"{_tank(act)}: {how} {', '.join(parts)}"


def _acknowledge(words: _Words, act: Act) -> str:
    return f"{_tank(act)}: seen, listed last: {_flag(words, act)}"


def _withdraw(words: _Words, act: Act) -> str:
    return f"{_tank(act)}: among the others again: {_flag(words, act)}"


def _undo(words: _Words, act: Act) -> str:
    texts = [_entry(words, entry) for entry in act.undone]
    more = len(texts) - UNDONE_SHOWN
    return f"taken back: {'; '.join(texts[:UNDONE_SHOWN])}" + (f" and {more} more" if more > 0 else "")


def _leave(_words: _Words, act: Act) -> str:
    (what,) = (what for what in act.what if isinstance(what, Away))
    visits = counted(sum(bool(due) for due in what.plan.days), "visit")
    last = what.plan.start + timedelta(days=len(what.plan.days) - 1)
    return f"leave plan for {what.helper} holds from {date_text(act.day)} to {date_text(last)}: {visits}"


def _ticks(_words: _Words, act: Act) -> str:
    given = sum(isinstance(what, Served) for what in act.what)
    skipped = [what for what in act.what if isinstance(what, Skipped)]
    cloudy = sum(what.because.code == "cloudy" for what in skipped)
    left = len(skipped) - cloudy
    return f"{date_text(act.day)} entered: {given} given, {left} left out, {cloudy} left out as cloudy"


def _entry(words: _Words, entry: Entry) -> str:
    return marked_text(words.room, entry)


_TEXTS: Final[Mapping[ActKind, Callable[[_Words, Act], str]]] = {
    "finish": _finish,
    "give": _give,
    "skip": _skip,
    "let_go": _let_go,
    "observe": _observe,
    "came": _came,
    "note": _note,
    "saw": _as_entry,
    "did": _as_entry,
    "read": _read,
    "add_water": _as_entry,
    "change_water": _as_entry,
    "add_salt": _as_entry,
    "deliver": _as_entry,
    "open_pack": _as_entry,
    "weigh": _as_entry,
    "pour": _pour,
    "acknowledge": _acknowledge,
    "withdraw": _withdraw,
    "undo": _undo,
    "leave": _leave,
    "end_leave": _as_entry,
    "ticks": _ticks,
}


def _tank(act: Act) -> str:
    """The tank an act is about, or the rack whose chore it is."""
    whats = [*act.what, *(entry.what for entry in act.undone)]
    rack = next((what.rack for what in whats if isinstance(what, ChoreMark) and what.rack is not None), None)
    if rack is not None:
        return f"rack {rack}"
    tanks = (getattr(what, "tank", None) for what in whats if not isinstance(what, Undone))
    return next((tank for tank in tanks if tank is not None), "room")


def _flag(words: _Words, act: Act) -> str:
    whats = [*act.what, *(entry.what for entry in act.undone)]
    seen = next(what for what in whats if isinstance(what, Acknowledged))
    return flag_name(words.room, seen.flag, seen.feed)
