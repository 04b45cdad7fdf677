"""What screens are built on: a full screen, the acts at a tank, a list, a text. Read `base_screen.py` first."""
