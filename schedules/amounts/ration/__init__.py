"""How much: a tank's ration of a day at each table, what one serving comes to, and the arithmetic behind it."""

from schedules.amounts.ration.account import Account, account, account_of_day
from schedules.amounts.ration.daily import Ration, daily_ration, main_table, ration_steps, share_of
from schedules.amounts.ration.draw_off import DrawOff, draw_off
from schedules.amounts.ration.hand import Hand, in_hand, smallest_part
from schedules.amounts.ration.hold import Hold, hold_on
from schedules.amounts.ration.level import Level, level_of, reported
from schedules.amounts.ration.remaining import Remaining, given_part, remaining_amount, still_due
from schedules.amounts.ration.serving import (
    Amount,
    PieceRule,
    by_volume,
    can_mix,
    piece_rule,
    serving,
)
from schedules.amounts.ration.steps import Step

__all__ = [
    "Account",
    "Amount",
    "DrawOff",
    "Hand",
    "Hold",
    "Level",
    "PieceRule",
    "Ration",
    "Remaining",
    "Step",
    "account",
    "account_of_day",
    "by_volume",
    "can_mix",
    "daily_ration",
    "draw_off",
    "given_part",
    "hold_on",
    "in_hand",
    "level_of",
    "main_table",
    "piece_rule",
    "ration_steps",
    "remaining_amount",
    "reported",
    "serving",
    "share_of",
    "smallest_part",
    "still_due",
]
