"""How much: a tank's daily ration and what one serving of a feed comes to."""

from schedules.ration.daily import Ration, daily_ration
from schedules.ration.serving import Amount, measured, serving_amount

__all__ = ["Amount", "Ration", "daily_ration", "measured", "serving_amount"]
