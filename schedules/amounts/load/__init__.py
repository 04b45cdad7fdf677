"""What feed does to the water: nitrogen, ammonia, and the published criteria it is set against (`schedules.water`)."""

from schedules.amounts.load.load import DROP_TEST, Load, days_load, feed_load, watched_days

__all__ = [
    "DROP_TEST",
    "Load",
    "days_load",
    "feed_load",
    "watched_days",
]
