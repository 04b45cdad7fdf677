"""The arithmetic of a serving, line by line, from the animals and the label to what lies on the spoon."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from schedules.amounts.ration.daily import ration_steps
from schedules.amounts.ration.hand import class_error
from schedules.amounts.ration.level import level_of
from schedules.amounts.ration.serving import Amount, Asked, asked, serving
from schedules.amounts.ration.steps import Step
from schedules.history import History
from schedules.room import Feed, Room, Tank, Tools


@dataclass(frozen=True, slots=True)
class Account:
    """How an amount came about: its lines in order, and the amount they end in."""

    steps: tuple[Step, ...]
    amount: Amount


def account(
    tank: Tank, feed: Feed, part: float, day: date, *, room: Room | None = None, history: History | None = None
) -> Account:
    """The lines behind `serving` called with the same values."""
    amount = serving(tank, feed, part, day, room=room, history=history)
    wanted = asked(tank, feed, part, day, room, history)
    tools = Tools() if room is None else room.tools
    return Account(
        (*ration_steps(tank, feed, day, room), *_part_steps(feed, wanted), *_measured_steps(amount, tools)), amount
    )


def account_of_day(room: Room, history: History, tank: Tank, feed: Feed, day: date) -> Account:
    """The lines behind what is due of a feed on a day; where nothing is due, behind the most it may take."""
    due = next((each for each in history.due_in(tank.id, day) if each.feed == feed.id), None)
    part = tank.feeds.get(feed.id, feed.rules).most
    if due is not None:
        # What was posted is the part that came of it after the level; the lines start from the part before.
        part = due.part / level_of(history, tank, feed, day).value
    return account(tank, feed, part, day, room=room, history=history)


def _part_steps(feed: Feed, wanted: Asked) -> Iterator[Step]:
    if feed.extra:
        yield Step("extra", wanted.ration.label_mg, "mg", "label")
        return
    yield Step("part", wanted.part, "", "plan")
    level = wanted.level
    if level is not None:
        yield Step(f"level_{level.why.code}", level.value, "", "ledger", values=level.why.named())
    yield Step("asked", wanted.mg, "mg", "lines")


def _measured_steps(amount: Amount, tools: Tools) -> Iterator[Step]:
    if amount.note is not None and amount.note.code in ("smallest_part", "ground", "draws", "nobody"):
        yield Step(f"note_{amount.note.code}", amount.mg, "mg", "measured", values=amount.note.named())
    if amount.rounded_mg:
        yield Step("rounded", amount.rounded_mg, "mg", "measured", values={"most": class_error(tools.doses_ml)})
    yield Step("given", amount.mg, "mg", "lines", values={"mixed": amount.mixed})
