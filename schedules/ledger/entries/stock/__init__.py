"""Entries about the shelf: what was delivered, which lot was opened, what was found when it was weighed."""
