"""Checks on the room's values: needs, spans, the calendar."""
