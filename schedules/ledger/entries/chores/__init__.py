"""Entries about chores: that one was done or left out."""
