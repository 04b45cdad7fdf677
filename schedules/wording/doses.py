"""A serving as the keeper takes it, in words: by the measure or in mL of a mix, and other amounts to choose from."""

from __future__ import annotations

from dataclasses import dataclass

from schedules.amounts import in_hand
from schedules.formatting import amount_text, mg_text, number_text
from schedules.ledger import PostedServing, Served
from schedules.room import Feed, Room
from schedules.round.choices import Choice, Unit
from schedules.round.doses import Doses
from schedules.wording.amounts import vessel_text
from schedules.wording.hand import hand_text, mixed, serving_text


@dataclass(frozen=True, slots=True)
class Taken:
    """A serving as it is taken: how much in a word or two, of what it is a mix or not, with what, and how heavy."""

    amount: str
    mixed: bool
    vessel: str
    mg: str


def taken(doses: Doses, due: PostedServing) -> Taken:
    """A due serving as the keeper takes it."""
    found, mg = doses.of(due), "" if doses.room.tools.plain else mg_text(due.amount_mg)
    if found is not None:
        fills = "" if found.times == 1 else f"{found.times} × "
        return Taken(f"{fills}{number_text(found.ml)} mL", True, vessel_text(found.vessel), mg)
    feed = doses.room.feeds.get(due.feed)
    if feed is None:
        return Taken(amount_text(due.amount, due.unit), False, "", mg)
    return Taken(hand_text(in_hand(feed, due.amount_mg, doses.room.tools)), False, "", mg)


def given_text(room: Room, doses: Doses | None, what: Served | PostedServing) -> str:
    """An amount: in mL of its mix where there is one (none without `doses`), else as it is taken by hand."""
    strength = None if doses is None else doses.mg_per_ml(what.feed)
    if doses is None or strength is None or not mixed(room, what):
        return serving_text(room, what)
    made = doses.dose_for(what.tank, what.feed, what.amount_mg)
    ml = number_text(what.amount_mg / strength) if made is None else number_text(made.ml)
    fills = "" if made is None or made.times == 1 else f"{made.times} × "
    text = f"{fills}{ml} mL of the mix"
    return text if room.tools.plain else f"{text} ({mg_text(what.amount_mg)})"


def choice_text(feed: Feed, choice: Choice) -> str:
    """One amount to choose."""
    by_hand = choice.ml is None
    text = (
        amount_text(choice.measures, feed.measure.name) if by_hand else f"{number_text(choice.ml or 0)} mL of the mix"
    )
    return f"{text} (as due)" if choice.as_due else text


def unit_text(feed: Feed, unit: Unit) -> str:
    """What a typed amount counts, in the plural."""
    return "mL of the mix" if unit.mixed else f"{feed.measure.name}s"
