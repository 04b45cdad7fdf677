"""What feed does to the water: nitrogen, ammonia, the published criteria it is set against, and what can be done."""

from schedules.amounts.load.advice import Advice, advice_for
from schedules.amounts.load.ammonia import unionised_part
from schedules.amounts.load.criteria import acute_criterion, chronic_criterion
from schedules.amounts.load.load import DROP_TEST, Load, day_load, days_load, feed_load, watched_days

__all__ = [
    "DROP_TEST",
    "Advice",
    "Load",
    "acute_criterion",
    "advice_for",
    "chronic_criterion",
    "day_load",
    "days_load",
    "feed_load",
    "unionised_part",
    "watched_days",
]
