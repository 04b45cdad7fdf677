"""What went wrong in the feeding: too much, too little, too soon. Evidence in numbers and one thing to do about it."""

from schedules.review.flags.table import FAMILIES, flags
from schedules.review.flags.types import Flag, FlagKind
from schedules.room.kinds import Severity

__all__ = ["FAMILIES", "Flag", "FlagKind", "Severity", "flags"]
