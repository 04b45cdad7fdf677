"""What was seen of the animals of the invented breeding room: a hatch to come, an early one, a good and a bad cohort.

And a tank in which something changed before three died, and a line that was selected. All of it is invented.
"""

from __future__ import annotations

from typing import Final

from schedules.ledger import Noted, Reading, Sighting, What

_READ: Final = ((58, 231), (51, 233), (44, 230), (37, 232), (30, 231), (23, 234), (16, 232), (9, 231), (3, 318))
"""Conductivity of a tank in µS/cm at 25 °C, so many days ago: steady, and a step at last."""
SEEN: Final[tuple[tuple[int, What], ...]] = (
    *((days, Reading("w12", "conductivity", float(value))) for days, value in _READ),
    (46, Sighting("l10", "hatch", "shrimplet", 30, False)),
    (45, Sighting("l13", "hatch", "shrimplet", 30, False)),
    (24, Sighting("w2", "moved", "adult", 4, True, to="w3", grade="dark")),
    (24, Sighting("w2", "culled", "adult", 3, True, grade="pale")),
    (17, Sighting("w1", "sold", "adult", 6, True, grade="even red")),
    (12, Sighting("l6", "berried", "adult", 2, True)),
    (12, Sighting("w6", "berried", "adult", 1, True)),
    (9, Sighting("l13", "count", "shrimplet", 6, True)),
    (8, Sighting("l10", "count", "shrimplet", 27, True)),
    (6, Sighting("w12", "added", "adult", 15, True, source="the club's fair")),
    (5, Noted("w12", "new sponge in the filter, the old one thrown away")),
    (2, Sighting("l6", "eyed", "adult", 1, True)),
    (2, Sighting("w12", "dead", "adult", 2, True)),
    (1, Sighting("w12", "dead", "adult", 1, True)),
    (1, Sighting("w6", "hatch", "shrimplet", 30, False)),
)
"""How many days ago, and what."""
NEGLECTED: Final = ("l13", range(31, 46))
"""A tank that was mostly passed by between so many days ago, when its shrimplets were young."""
