"""Who lives where: all that was seen of the animals, folded over the room file's counts.

In: a room, and the ledger's sightings. Out: `Life`, and the room as it is lived in. Read `values.py` first, then
`fold.py`.
"""

from schedules.history.life.effective import room_as_of
from schedules.history.life.reading import life_of
from schedules.history.life.values import Brood, Change, Disagreement, Group, Life

__all__ = ["Brood", "Change", "Disagreement", "Group", "Life", "life_of", "room_as_of"]
