"""Plots of plain values in the program's own colours, each thing by a sign of its own. Read `values.py` first."""
