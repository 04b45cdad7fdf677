"""A rack's water read in one walk: tank after tank, digits only, Enter keeps the value and goes on."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import ClassVar

from textual import work
from textual.binding import Binding, BindingType

from schedules.formatting import counted, date_text
from schedules.ledger import Reading, What
from schedules.room import Room
from schedules.room.water.quantities import QUANTITIES, Quantity, change_text, value_text
from schedules.session.outcome import Outcome
from schedules.session.session import Session
from schedules.water.derived import NoTemperature, settled
from schedules.water.readings import Value, latest
from tui.screens.bases.walk_screen import WalkScreen, walk_bindings
from tui.screens.water.quantities import ask_quantities


@dataclass(frozen=True, slots=True)
class Line:
    """What is read in one go: a quantity in a tank."""

    tank: str
    quantity: Quantity


@dataclass(frozen=True, slots=True)
class Part:
    """Tanks that are read one after the other: those of a rack, and last those in quarantine."""

    name: str
    tanks: tuple[str, ...]


def parts_of(room: Room) -> tuple[Part, ...]:
    """The parts of a walk: rack after rack, quarantine last, so that no probe goes from there into another tank."""
    apart = tuple(tank for tank in room.walk if room.tanks[tank].quarantine)
    racks = (Part(rack.name, tuple(tank for tank in rack.tanks if tank not in apart)) for rack in room.racks)
    return tuple(part for part in (*racks, Part("quarantine", apart)) if part.tanks)


class ReadingScreen(WalkScreen[Line]):
    """What is to be read in each tank of a rack, then of the next; on top of the screen it was opened from."""

    place = "reading"
    subject = "reading a rack"
    columns = (("tank", 6), ("quantity", 13), ("last", 19), ("read", 11), ("change", None))
    nothing = "There is nothing to read in this rack."
    MOST_SIGNS = 7
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("full_stop,comma", "point", show=False),
        *walk_bindings("reading"),
    ]

    def __init__(self, session: Session, tank: str, quantities: Sequence[Quantity]) -> None:
        super().__init__(session)
        self._tank = tank
        self._quantities = tuple(quantities)
        self._parts = parts_of(session.room)
        self._part = next(number for number, part in enumerate(self._parts) if tank in part.tanks)
        self._lines = self._lines_of(self._parts[self._part])
        self._before: dict[Line, Value | None] = {}
        self._read: dict[Line, float] = {}

    def _lines_of(self, part: Part) -> tuple[Line, ...]:
        return tuple(Line(tank, quantity) for tank in part.tanks for quantity in self._quantities)

    @property
    def start(self) -> int:
        """The first line of the tank it was opened from."""
        return next((number for number, line in enumerate(self._lines) if line.tank == self._tank), 0)

    def items(self) -> tuple[Line, ...]:
        """In walking order."""
        return self._lines

    def before(self, item: Line) -> Value | None:
        """The last value from before this walk."""
        if item not in self._before:
            tank = self.session.room.tanks[item.tank]
            self._before[item] = latest(self.session.history, tank, item.quantity)
        return self._before[item]

    def row(self, item: Line) -> tuple[str, ...]:
        """Where, what, what was read last, what is read now, how far that is from the last."""
        before, units = self.before(item), self.session.room.units
        last = "" if before is None else f"{value_text(item.quantity, before.value, units)}, {_when(before)}"
        value = self._read.get(item)
        read = "" if value is None else value_text(item.quantity, value, units)
        if self.typed and item == self.current_item:
            read, value = self.typed, self._value(item, self.typed.rstrip("_"))
        change = "" if before is None or value is None else change_text(item.quantity, value - before.value, units)
        return item.tank, QUANTITIES[item.quantity].name, last, read, change

    def about(self, item: Line) -> str:
        """The tank, and what speaks against the value or the keys."""
        typed = f": {self.typed.rstrip('_')}" if self.typed else ""
        head = f"{self.session.room.tanks[item.tank].label}, {QUANTITIES[item.quantity].name}{typed}"
        doubt, enter = self.question(item), self.key("next_count")
        if doubt:
            return f"{head}\n{doubt}.\n{enter} keeps it all the same."
        return (
            f"{head}\nType the value; {enter} keeps it and goes on, without a value it only goes on; "
            f"{self.key('uncount')} takes back the last; {self.key('quantities')}: other quantities."
        )

    def tank_of(self, item: Line) -> str:
        """The tank that is read."""
        return item.tank

    def _value(self, item: Line, text: str) -> float | None:
        """What is typed in the domain's units; None where that is no number."""
        typed = _number(text)
        if typed is None:
            return None
        try:
            return settled(self.session.room, self.session.history, item.tank, {item.quantity: typed})[item.quantity]
        except NoTemperature:
            return None

    def kept(self, item: Line, text: str, *, anyway: bool) -> Callable[[], Outcome] | None:
        """Record a value."""
        value = self._value(item, text)
        if value is None:
            return None
        return lambda: self.session.read_water(item.tank, {item.quantity: value}, anyway=anyway)

    def not_kept(self, item: Line, text: str) -> str:
        """Why what was typed cannot be recorded."""
        if _number(text) is None:
            return super().not_kept(item, text)
        return f"{item.tank}: conductivity is brought to 25 °C by the temperature: read that first"

    def took(self, item: Line, text: str) -> None:
        """A value was recorded."""
        value = self._value(item, text)
        assert value is not None
        self._read[item] = value

    def forget(self, item: Line) -> None:
        """A value was taken back."""
        self._read.pop(item, None)

    def is_of(self, item: Line, what: What) -> bool:
        """Whether an entry is the reading of a line."""
        return isinstance(what, Reading) and (what.tank, what.quantity) == (item.tank, item.quantity)

    def action_point(self) -> None:
        """Type the point; a comma is one too, and a second one is none."""
        item = self.current_item
        if "." not in self.typed or (item is not None and self.question(item)):
            self.type_sign(".")

    def action_next_count(self) -> None:
        """Keep the value and go on; behind the last one, go on to the next rack."""
        if self.ended and self._next_part():
            return
        super().action_next_count()

    def said_at_end(self) -> str:
        """How many of the rack's values were read, and where it goes on."""
        read = sum(line in self._read for line in self._lines)
        said = f"{self._parts[self._part].name}: {read} of {counted(len(self._lines), 'value')} read"
        if self._part + 1 == len(self._parts):
            return f"{said}; that was the last"
        return f"{said}; {self.key('next_count')} goes on to {self._parts[self._part + 1].name}"

    def _next_part(self) -> bool:
        if self._part + 1 == len(self._parts):
            return False
        self._part += 1
        part = self._parts[self._part]
        self._lines = self._lines_of(part)
        self.fill()
        self.go_to(0)
        self.say(f"{part.name}: {counted(len(self._lines), 'value')} to read")
        return True

    @work
    async def action_quantities(self) -> None:
        """Choose what is read, from now on in every rack until the program is closed."""
        chosen = await ask_quantities(self.app, self._quantities)
        if not chosen or chosen == self._quantities:
            return
        line = self.current_item
        self._quantities = self.rackround.quantities = chosen
        if line is not None:
            self._lines = self._lines_of(self._parts[self._part])
            self._tank = line.tank
            self.fill()
            self.go_to(self.start)


def _when(value: Value) -> str:
    return "file" if value.day is None else date_text(value.day).partition(" ")[2]


def _number(text: str) -> float | None:
    try:
        return float(text)
    except ValueError:
        return None
