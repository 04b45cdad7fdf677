"""Entries about the water: what was read, and what was poured in, changed or dissolved."""
