"""Going away: what an inexperienced helper gives on the days away, what that costs the animals, what to prepare.

In: a room, its history, the days away. Out: a leave plan, its cost beside the normal plan, cups by day and rack,
and the entries that a sheet's ticks come to. Read `plan.py` first.
"""

from schedules.leave.cost import LeaveCost, TableCost, cost_of
from schedules.leave.cups import RackDay, rack_days
from schedules.leave.plan import LeavePlan, leave_plan
from schedules.leave.safe import Unsafe

__all__ = ["LeaveCost", "LeavePlan", "RackDay", "TableCost", "Unsafe", "cost_of", "leave_plan", "rack_days"]
