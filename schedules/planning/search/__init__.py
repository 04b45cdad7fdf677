"""The planner. In: a problem, and the plan of the day before where there is one. Out: a lawful plan and its bound.

Read `planner.py` first, it is the door. Then in the order of the work: `units.py` takes the room apart into parts that
only the longest round ties together; `sorts.py` puts feeds that are alike in everything together; `day_sets.py` lists
what fits a day; `clock_table.py` turns a clock into an automaton, `automata.py` and `block.py` those of many units into
arrays; `decomposition.py` finds prices and the bound; `beam.py` searches from day to day; `pool.py` keeps the plans
found and `levels.py` chooses among them; `room.py` runs all this for a whole room; `following.py` carries on a plan a
day later.
"""

from schedules.planning.search.planner import plan, quick

__all__ = ["plan", "quick"]
