"""Whether the water changes: each reading against the tank's own past, its rack, and the targets of the room file.

In: a room and its history. Out: findings, as values. Read `findings.py` first, then `watch.py`; `rack.py` decides.
"""

from schedules.water.watch.findings import Finding
from schedules.water.watch.trend import Trend
from schedules.water.watch.watch import rack_findings, room_findings, tank_findings, too_few, trend, watched

__all__ = ["Finding", "Trend", "rack_findings", "room_findings", "tank_findings", "too_few", "trend", "watched"]
