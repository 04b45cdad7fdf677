"""Which tables and keys a room file may have: its shape, before defaults and units.

What a value may be stands in `values`; what depends on two keys at once, or on the room's units, in `checks` one
folder above. Read `room.py` first.
"""
