"""What a history has looked up in its entries: filled when first asked for, passed on when the history goes on."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from typing import Any

from schedules.history.projection import Projection
from schedules.ledger import Entry, PostedServing

States = dict[str, Mapping[Any, tuple[Entry, ...]]]


@dataclass(slots=True)
class Lookups:
    """The states of projections by name, and what is due by day and tank."""

    states: States = field(default_factory=dict)
    due: dict[date, dict[str, tuple[PostedServing, ...]]] = field(default_factory=dict)
    kept: dict[Any, Any] = field(default_factory=dict)
    """What others worked out, each with the entries it came from, by which they see whether it still holds."""

    def state(self, of: Projection[Any], entries: Sequence[Entry]) -> Mapping[Any, tuple[Entry, ...]]:
        """A projection of the history's entries, folded when first asked for."""
        if of.name not in self.states:
            self.states[of.name] = of.fold(entries)
        return self.states[of.name]

    def due_in(self, tank: str, day: date, due: Callable[[date], Sequence[PostedServing]]) -> tuple[PostedServing, ...]:
        """What is due in one tank on a day, out of what is due on the day."""
        if day not in self.due:
            by_tank: dict[str, list[PostedServing]] = {}
            for serving in due(day):
                by_tank.setdefault(serving.tank, []).append(serving)
            self.due[day] = {tank: tuple(servings) for tank, servings in by_tank.items()}
        return self.due[day].get(tank, ())

    def take_over(
        self,
        before: Lookups,
        known: Sequence[Projection[Any]],
        added: Sequence[Entry] = (),
        gone: Sequence[Entry] = (),
        *,
        posted: bool,
    ) -> None:
        """Go on from the lookups of the history before, after entries came and went; a posting changes what is due."""
        for of in known:
            if of.name in before.states:
                self.states[of.name] = of.changed(before.states[of.name], added, gone)
        self.kept = before.kept
        if not posted:
            self.due = before.due
