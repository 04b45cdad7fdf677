"""Chores in a room file: what is wrong with one, and how it becomes a `Chore` (`schema/chore_templates.py`)."""
