"""What follows from readings by published formulas: ammonia, conductivity at 25 °C, dissolved solids.

In: numbers in the domain's units. Out: numbers, and for each formula its source (`sources.py`).
"""
