"""Taking heads out of groups and giving heads to them: pure arithmetic on the groups of one tank."""

from __future__ import annotations

from collections.abc import Sequence


def shared_out(heads: int, among: Sequence[int]) -> list[int]:
    """Heads shared out in proportion to what each group has, whole ones, by largest remainder (Hamilton's method).

    Where no more are shared out than there are, no group gets more than it has. The first group comes first in a tie.
    """
    there = sum(among)
    if there == 0:
        return [0] * len(among)
    shares = [heads * each // there for each in among]
    rest = heads - sum(shares)
    order = sorted(range(len(among)), key=lambda place: (-(heads * among[place] % there), place))
    for place in order[:rest]:
        shares[place] += 1
    return shares
