"""Entries about the animals: what was seen of them, and who lived where by all that was seen until a day."""
