"""What feed does to the water: nitrogen, ammonia, and the published criteria it is set against."""

from schedules.amounts.load.ammonia import unionised_part
from schedules.amounts.load.criteria import acute_criterion, chronic_criterion
from schedules.amounts.load.load import Load, day_load, feed_load

__all__ = ["Load", "acute_criterion", "chronic_criterion", "day_load", "feed_load", "unionised_part"]
