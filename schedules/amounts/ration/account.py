"""The arithmetic of a serving, line by line, from the label and the animals to what lies on the spoon."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from schedules.amounts.ration.daily import ration_steps
from schedules.amounts.ration.serving import Amount, Usual, serving_amount, usual_serving
from schedules.amounts.ration.steps import COMMON, Step
from schedules.formatting import amount_text
from schedules.history import History
from schedules.room import Feed, FeedRules, Room, Tank


@dataclass(frozen=True, slots=True)
class Account:
    """How an amount came about: its lines in order, and the amount they end in."""

    steps: tuple[Step, ...]
    amount: Amount


def account(
    tank: Tank,
    feed: Feed,
    rules: FeedRules,
    day: date,
    *,
    room: Room | None = None,
    history: History | None = None,
    alone: bool = False,
) -> Account:
    """The lines behind `serving_amount` called with the same values."""
    amount = serving_amount(tank, feed, rules, day, room=room, history=history, alone=alone)
    usual = usual_serving(tank, feed, rules, day, room=room, history=history, alone=alone)
    steps = (*ration_steps(tank, feed, day, room), *_serving_steps(usual, alone), *_measured_steps(usual, amount))
    return Account(steps, amount)


def _serving_steps(usual: Usual, alone: bool) -> tuple[Step, ...]:
    share = Step(
        "its share of the ration, given alone" if alone else "its share of the ration beside other feeds",
        usual.share,
        "",
        "the feed's rules, or common practice by kind",
    )
    if usual.level is None:
        return (share, Step("a usual serving", usual.mg, "mg", "the lines above"))
    level = Step(usual.level.why, usual.level.value, "", f"the ledger; steps are {COMMON}")
    return (share, level, Step("to be given", usual.mg, "mg", "the lines above"))


def _measured_steps(usual: Usual, amount: Amount) -> tuple[Step, ...]:
    steps = []
    if amount.note and (usual.level is None or amount.note != usual.level.why):
        steps.append(Step(amount.note, amount.mg, "mg", "what can be measured"))
    if amount.lost_mg > 0:
        steps.append(Step("rounded down by, not made up for later", amount.lost_mg, "mg", "what can be measured"))
    what = "in the mix" if amount.mixed else amount_text(amount.measures, amount.unit)
    spread = "as the mix says" if amount.mixed else "no accuracy is known for spoons and pieces"
    steps.append(Step(f"given: {what}", amount.mg, "mg", "the lines above", spread))
    return tuple(steps)
