"""Getting a round ready: batches to mix with their doses, the order of the pull, and when to look back."""

from schedules.amounts.mixing.batch import batches, goes_into_mix, mix
from schedules.amounts.mixing.look_back import LookBack, look_back
from schedules.amounts.mixing.pull import Pull, pull_list
from schedules.amounts.mixing.types import Batch, Dilution, Dose
from schedules.amounts.mixing.words import batch_steps, dose_text

__all__ = [
    "Batch",
    "Dilution",
    "Dose",
    "LookBack",
    "Pull",
    "batch_steps",
    "batches",
    "dose_text",
    "goes_into_mix",
    "look_back",
    "mix",
    "pull_list",
]
