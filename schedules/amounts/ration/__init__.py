"""How much: a tank's daily ration, what one serving of a feed comes to, and the arithmetic behind it."""

from schedules.amounts.ration.account import Account, account
from schedules.amounts.ration.daily import Ration, daily_ration, ration_steps, share_of
from schedules.amounts.ration.hold import Hold, hold_on
from schedules.amounts.ration.level import Level, level_of
from schedules.amounts.ration.measurable import measured, smallest_part
from schedules.amounts.ration.remaining import Remaining, remaining_amount
from schedules.amounts.ration.serving import Amount, can_mix, planning_rules, serving_amount
from schedules.amounts.ration.steps import Step

__all__ = [
    "Account",
    "Amount",
    "Hold",
    "Level",
    "Ration",
    "Remaining",
    "Step",
    "account",
    "can_mix",
    "daily_ration",
    "hold_on",
    "level_of",
    "measured",
    "planning_rules",
    "ration_steps",
    "remaining_amount",
    "serving_amount",
    "share_of",
    "smallest_part",
]
