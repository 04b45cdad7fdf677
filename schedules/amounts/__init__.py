"""How much: rations and servings (`ration`), bottles and doses (`mixing`), what feed does to the water (`load`).

Nothing here writes sentences: reasons, steps, picks and looks are codes with values, put in words by
`schedules.wording.amounts`. These are the doors; everything else may change.

For planning and posting: `serving(tank, feed, part, day, room=, history=, draw_off=)` gives the amount of a planned
serving, rounded once; `piece_rule(...)` the least part and shortest gap of a feed whose smallest piece is large for a
tank; `feed_minutes` and `preparation_minutes` what opening a feed on a morning costs.

For the round: `remaining_amount` what is left of a serving due, `given_part` what a table already got, `hold_on` what
holds a solid feed back, `draw_off` what goes in first, `prepare` the bottles, cups, pick list and minutes, `bottles`
and `dose` a serving by volume, `look_back` which tanks to look at later, `in_hand` how a dry amount is taken.

For review and explanations: `daily_ration`, `share_of`, `account` (the arithmetic line by line), `reported`,
`days_load`, `watched_days`.
"""

from schedules.amounts.load import DROP_TEST, Load, days_load, feed_load, watched_days
from schedules.amounts.mixing import (
    Bottle,
    Cup,
    Dose,
    LookBack,
    Pick,
    Preparation,
    bottles,
    dose,
    feed_minutes,
    goes_into_mix,
    look_back,
    preparation_minutes,
    prepare,
)
from schedules.amounts.ration import (
    Account,
    Amount,
    DrawOff,
    Hand,
    Hold,
    PieceRule,
    Ration,
    Remaining,
    Step,
    account,
    account_of_day,
    daily_ration,
    draw_off,
    given_part,
    hold_on,
    in_hand,
    piece_rule,
    remaining_amount,
    reported,
    serving,
    share_of,
    still_due,
)

__all__ = [
    "DROP_TEST",
    "Account",
    "Amount",
    "Bottle",
    "Cup",
    "Dose",
    "DrawOff",
    "Hand",
    "Hold",
    "Load",
    "LookBack",
    "Pick",
    "PieceRule",
    "Preparation",
    "Ration",
    "Remaining",
    "Step",
    "account",
    "account_of_day",
    "bottles",
    "daily_ration",
    "days_load",
    "dose",
    "draw_off",
    "feed_load",
    "feed_minutes",
    "given_part",
    "goes_into_mix",
    "hold_on",
    "in_hand",
    "look_back",
    "piece_rule",
    "preparation_minutes",
    "prepare",
    "remaining_amount",
    "reported",
    "serving",
    "share_of",
    "still_due",
    "watched_days",
]
