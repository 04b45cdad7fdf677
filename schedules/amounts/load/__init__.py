"""What feed does to the water: nitrogen, ammonia, the published criteria it is set against."""

from schedules.amounts.load.ammonia import unionised_part
from schedules.amounts.load.criteria import acute_criterion, chronic_criterion
from schedules.amounts.load.load import DROP_TEST, Load, days_load, feed_load, watched_days

__all__ = [
    "DROP_TEST",
    "Load",
    "acute_criterion",
    "chronic_criterion",
    "days_load",
    "feed_load",
    "unionised_part",
    "watched_days",
]
