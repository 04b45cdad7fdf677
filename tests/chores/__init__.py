"""Chores: when each is due, and how they are spread over days."""
