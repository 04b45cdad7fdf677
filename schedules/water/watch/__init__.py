"""Whether the water changes: each reading against the tank's own past, its rack, and the targets of the room file.

In: the readings of a rack, quantity by quantity. Out: findings, as values. Read `findings.py` first, then `rack.py`.
"""
