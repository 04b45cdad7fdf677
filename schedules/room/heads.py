"""How many animals were seen: an exact number, or one of a few classes that the eye can tell apart in a moment."""

from __future__ import annotations

from typing import Final, NamedTuple

CLASSES: Final[dict[int, tuple[int, int]]] = {
    1: (1, 1),
    3: (2, 5),
    10: (6, 17),
    30: (18, 54),
    100: (55, 173),
    300: (174, 547),
}
"""Each class with the least and the most heads it stands for: halfway to its neighbours on a scale of ratios."""
MOST_HEADS: Final = 100_000
"""More animals than any tank holds."""
BROOD: Final = 30
"""What one female hatches where nobody said: about 30. Published are 21 to 51 a brood (Nur and Christianus 2013)."""


class Heads(NamedTuple):
    """A number of animals, and whether it was counted or is a class."""

    number: int
    exact: bool = True

    @property
    def range(self) -> tuple[int, int]:
        """The least and the most heads this can be."""
        return (self.number, self.number) if self.exact else CLASSES[self.number]

    @property
    def text(self) -> str:
        """The number in words."""
        return str(self.number) if self.exact else f"about {self.number}"
