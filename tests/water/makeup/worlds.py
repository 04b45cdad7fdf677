"""Rooms and ledgers for the tests of make-up water, and a tank in which masses are kept, as a world to read from."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import UTC, date, datetime, time, timedelta

from schedules.history import History, history_of
from schedules.ledger import Reading, WaterAdded, WaterChanged, What
from schedules.ledger.stores.memory import MemoryLedger
from schedules.room import Room
from schedules.room_file import load_room_text

TODAY = date(2026, 11, 27)
WATERS = """
[[waters]]
id = "mixed"
tds = 180
gh = 6
kh = 2

[[salts]]
id = "gh-salt"
measured = { grams = 20, water = 100, gh = 6, tds = 190 }
"""
TANK = """
[[racks.tanks]]
id = "{id}"
volume = {litres}
{more}
"""


def room_with(*tanks: str, top: str = WATERS, head: str = "") -> Room:
    """A room of one rack; each tank is its lines after the volume, 40 litres, with ids a, b, c."""
    texts = (TANK.format(id=id_, litres=40, more=more) for id_, more in zip("abcdefgh", tanks, strict=False))
    text = f'name = "Room"\ntime_zone = "Etc/UTC"\n{head}[[feeds]]\nid = "dust"\nkind = "powder"\n{top}'
    return load_room_text(f'{text}\n[[racks]]\nid = "left"\n{"".join(texts)}', "room.toml")


def history_with(*entries: tuple[int, What]) -> History:
    """A history of entries, each so many days before today, as it is read on that day."""
    ledger = MemoryLedger()
    for back, what in entries:
        day = TODAY - timedelta(days=back)
        ledger.append([what], day=day, at=datetime.combine(day, time(7), UTC), by="Ana")
    return history_of(ledger, TODAY)


@dataclass
class World:
    """A tank in which milligrams and litres are kept, and what a keeper writes down of it."""

    litres: float = 40.0
    mass: float = 40.0 * 200
    volume: float = 40.0
    written: list[tuple[int, What]] = field(default_factory=list)

    @property
    def solids(self) -> float:
        """mg/L."""
        return self.mass / self.volume

    def evaporate(self, litres: float) -> None:
        """Vapour takes nothing along."""
        self.volume -= litres

    def read(self, back: int) -> None:
        """Read the solids."""
        self.written.append((back, Reading("a", "tds", self.solids)))

    def fill(self, back: int, source: str | None, held: float) -> float:
        """Fill it up with a water that holds so much, mg/L; how many litres that took."""
        poured = self.litres - self.volume
        self.volume, self.mass = self.litres, self.mass + poured * held
        self.written.append((back, WaterAdded("a", poured, source)))
        return poured

    def pour(self, back: int, litres: float, source: str | None, held: float) -> None:
        """Pour so much of a water in."""
        self.volume, self.mass = self.volume + litres, self.mass + litres * held
        self.written.append((back, WaterAdded("a", litres, source)))

    def change(self, back: int, litres: float, source: str | None, held: float) -> None:
        """Change some of its water."""
        self.mass += litres * (held - self.solids)
        self.written.append((back, WaterChanged("a", litres, source)))
