"""One tank's water: what was read, how it moves, what was found, what to add; each quantity as a plot."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.content import Content
from textual.widgets import Static

from schedules.review.water import QuantityState, quantity_states, tank_state
from schedules.room import Tank
from schedules.session.session import Session
from schedules.water.derived import ammonia_of
from schedules.water.makeup import tank_top_off
from schedules.wording.water.state import ammonia_text, found_lines, quantity_text, source_lines
from schedules.wording.water.top_off import top_off_lines
from tui.acts import bindings_of
from tui.screens.bases.text_screen import TextScreen
from tui.screens.dialogs.text_dialog import TextDialog, text_width
from tui.screens.water.plots import quantity_plot
from tui.screens.water.pouring import PouringActs
from tui.widgets.breakdown import hanging
from tui.widgets.plots.view import PlotView


class TankWaterScreen(PouringActs, TextScreen):
    """A tank's water, on top of the screen it was opened from."""

    place = "tank_water"
    subject = "a tank's water"
    BINDINGS: ClassVar[list[BindingType]] = [*bindings_of("tank_water")]

    def __init__(self, session: Session, tank: str) -> None:
        super().__init__(session)
        self._tank = tank
        self._plotted = False
        self._number = 0

    @property
    def current_tank(self) -> str | None:
        """The tank shown."""
        return self._tank

    def compose_body(self) -> ComposeResult:
        """The text, and the place of the plot."""
        yield Static(id="heading")
        yield PlotView(id="plot")
        yield from super().compose_body()

    def on_mount(self) -> None:
        """The text first; the plot begins with what most was found in."""
        super().on_mount()
        session = self.session
        state = tank_state(session.room, session.history, session.room.tanks[self._tank], session.day)
        found = [finding.quantity for finding in (*state.own, *state.shared)]
        known = [each.quantity for each in self._read()]
        if found and found[0] in known:
            self._number = known.index(found[0])
        self._show_plotted()

    def _known(self) -> tuple[QuantityState, ...]:
        tank = self.session.room.tanks[self._tank]
        return quantity_states(self.session.history, tank, self.session.day)

    def _read(self) -> tuple[QuantityState, ...]:
        """The quantities that were read: what the room file says alone is no plot."""
        return tuple(state for state in self._known() if state.now.day is not None)

    def lines(self, width: int) -> Iterable[Content]:
        """Readings, findings, what to add."""
        tank = self.session.room.tanks.get(self._tank)
        if tank is None:
            return [Content(f"{self._tank} is no longer in the room file")]
        return self._lines(tank, width)

    def _lines(self, tank: Tank, width: int) -> Iterator[Content]:
        session = self.session
        room, history, today = session.room, session.history, session.day
        yield Content.styled(tank.label, "bold")
        known = self._known()
        for state in known:
            yield from hanging(quantity_text(room, state, today), width, "")
        if not known:
            yield Content(f"Nothing was read here yet: {self.key('read_rack')} reads this rack.")
        ammonia = ammonia_of(history, tank, today)
        if ammonia is not None:
            yield from hanging(ammonia_text(room, ammonia), width, "$quiet")
        yield from self._part("Found in the last two weeks")
        found = list(found_lines(room, tank_state(room, history, tank, today)))
        for line in found or ["nothing"]:
            yield from hanging(line, width, "$warning" if found else "")
        yield from self._part("What to add")
        for line in top_off_lines(room, tank_top_off(room, history, tank, today)):
            yield from hanging(line, width, "")

    def _part(self, title: str) -> Iterator[Content]:
        yield Content("")
        yield Content.styled(title, "bold $primary")

    def show_text(self) -> None:
        """Show text and plot as things stand now."""
        super().show_text()
        self._show_plotted()

    def _show_plotted(self) -> None:
        self.query_one("#scroll").display = not self._plotted
        for part in ("#heading", "#plot"):
            self.query_one(part).display = self._plotted
        tank = self.session.room.tanks.get(self._tank)
        known = self._read() if tank is not None and self._plotted else ()
        if tank is None or not known:
            self.query_one(PlotView).show(None)
            return
        session, state = self.session, known[self._number % len(known)]
        text = f"{tank.label}: {quantity_text(session.room, state, session.day)}"
        heading = Content("\n").join(hanging(text, max(20, self.app.size.width - 4), "bold", indent=0))
        self.query_one("#heading", Static).update(heading)
        plot = quantity_plot(session.room, session.history, tank, state.quantity, session.day)
        self.query_one(PlotView).show(plot)

    def action_as_plot(self) -> None:
        """The plot instead of the text, or the text again."""
        if not self._plotted and not self._read():
            self.say("nothing was read here yet")
            return
        self._plotted = not self._plotted
        self._show_plotted()

    def action_other_quantity(self) -> None:
        """The plot of the next quantity in turn."""
        if not self._read():
            self.say("nothing was read here yet")
            return
        self._number += self._plotted
        self._plotted = True
        self._show_plotted()

    def action_sources(self) -> None:
        """Where the formulas come from."""
        width = text_width(self.app.size.width)
        lines: list[Content] = []
        for formula, published, holds in source_lines():
            lines += [
                *hanging(formula, width, "bold"),
                *hanging(published, width, ""),
                *hanging(holds, width, "$quiet"),
            ]
            lines.append(Content(""))
        self.app.push_screen(TextDialog("Where the numbers come from", lines[:-1]))
