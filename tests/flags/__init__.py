"""Checks of the flags."""
