"""The water: what was read in each tank, what follows from it, and whether it changes.

In: a room and its history. Out: series of readings, values worked out from them, findings. Read `readings.py` first,
then `watch/`; `chemistry/` holds the formulas, each with its source.
"""
