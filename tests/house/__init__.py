"""Checks of the house itself: the list of modules, the commands that build it."""
