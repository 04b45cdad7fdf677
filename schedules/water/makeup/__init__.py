"""Make-up water: what a tank has lost, what to pour in, which salts and changes bring it to its bands.

In: a room, a history, a day. Out: values, no words. What a screen or command asks for:

- `tank_top_off(room, history, tank, day, drop_mm=…, litres=…)`: one tank, what to pour in now and why, the changes it
  needs, what has built up in it (`TopOff`).
- `rack_make_up(room, history, day, rack)`: a rack's or the whole room's make-up water as one list (`MakeUp`).

Words for both are in `schedules.wording.water`. The formulas are in `minerals.py`, `loss.py`, `split.py`, `salting.py`,
`changes.py` and `build_up.py`; read `minerals.py` first.
"""

from schedules.water.makeup.advice import MakeUpWater, Pour, WaterChange
from schedules.water.makeup.rack import Batch, MakeUp, Weighed, rack_make_up
from schedules.water.makeup.seen import BuildUp
from schedules.water.makeup.tank import TopOff, tank_top_off

__all__ = [
    "Batch",
    "BuildUp",
    "MakeUp",
    "MakeUpWater",
    "Pour",
    "TopOff",
    "WaterChange",
    "Weighed",
    "rack_make_up",
    "tank_top_off",
]
