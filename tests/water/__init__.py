"""The water: acts, readings, formulas, the watch, its commands."""
