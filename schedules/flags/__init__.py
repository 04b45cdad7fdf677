"""What went wrong in the feeding: too much, too little, too soon. Evidence in numbers and one thing to do about it."""

from schedules.flags.table import FAMILIES, flags
from schedules.flags.types import Flag, FlagKind
from schedules.kinds import Severity

__all__ = ["FAMILIES", "Flag", "FlagKind", "Severity", "flags"]
