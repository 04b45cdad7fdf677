"""Boxes over a screen that ask one thing and give back the answer. Read `dialog.py` first."""
