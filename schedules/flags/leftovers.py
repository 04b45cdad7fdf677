"""What was found lying: leftovers, as they were reported."""

from __future__ import annotations

from collections.abc import Iterator

from schedules.flags.look import Look
from schedules.flags.types import Flag
from schedules.ledger.entries import Observed


def leftovers(look: Look) -> Iterator[Flag]:
    """Leftovers reported, the worst report of each feed and day."""
    for tank in look.tanks():
        for day in look.days:
            reports = [(entry, entry.what) for entry in look.history.about(tank.id, day)]
            for feed in dict.fromkeys(what.feed for _, what in reports if isinstance(what, Observed)):
                found = [
                    (entry, what)
                    for entry, what in reports
                    if isinstance(what, Observed) and what.feed == feed and what.leftovers != "none"
                ]
                if not found:
                    continue
                entry, worst = max(found, key=lambda report: report[1].leftovers == "most")
                name = look.feed_name(feed)
                yield Flag(
                    "leftovers",
                    "middle" if worst.leftovers == "most" else "low",
                    tank.id,
                    feed,
                    day,
                    f"{worst.leftovers} of {name} was left ({look.when(entry)})",
                    f"Take it out and let the next solid feed go; the next {name} is cut."
                    if worst.leftovers == "most"
                    else f"Take it out; the next {name} is cut.",
                )
