"""Faults of a room file with their lines and keys. In: a text and what was found wrong. Out: faults to read.

Loaded only where something is wrong, `toml` (the parser, kept from endless keys) excepted. Read `diagnosis.py` first.
"""
