"""The round: what is due at each stop, what forbids giving it, and the entries that record what was done."""

from schedules.round.marks import as_served, finish_stop, give
from schedules.round.refusal import refusal
from schedules.round.sheet import current_round, round_sheet, stop_servings
from schedules.round.types import Refusal, RoundServing, RoundSheet, State, Stop

__all__ = [
    "Refusal",
    "RoundServing",
    "RoundSheet",
    "State",
    "Stop",
    "as_served",
    "current_round",
    "finish_stop",
    "give",
    "refusal",
    "round_sheet",
    "stop_servings",
]
