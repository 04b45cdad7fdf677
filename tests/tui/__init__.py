"""The dashboard, worked by a pilot."""
