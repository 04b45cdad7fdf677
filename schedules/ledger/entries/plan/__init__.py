"""Entries about the plan: a posting as values, and how it is written down."""
