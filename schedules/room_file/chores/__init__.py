"""Chores in a room file: what is wrong with one, and how it becomes a `Chore`. The templates are in the schema."""
