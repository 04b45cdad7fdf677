"""Grids of cells: tanks by days, racks by places, a strip of days."""
