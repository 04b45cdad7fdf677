"""Going from tank to tank and typing one number at each: digits only, Enter keeps the number and goes on."""

from __future__ import annotations

from abc import abstractmethod
from collections.abc import Callable
from typing import ClassVar, TypeVar

from rich.text import Text
from textual.binding import Binding, BindingType
from textual.coordinate import Coordinate
from textual.widgets import DataTable

from schedules.ledger import LedgerFault, What
from schedules.session.outcome import Outcome
from schedules.session.recent import RecentAct
from schedules.session.session import Session
from schedules.wording.refusals import doubt_text
from tui.acts import Place, bindings_of
from tui.screens.bases.list_screen import ListScreen
from tui.widgets.cells import cut

Item = TypeVar("Item")


def walk_bindings(place: Place) -> list[BindingType]:
    """The keys of a walk: the digits, and the acts of its place."""
    digits = (Binding(str(digit), f"digit({digit})", show=False) for digit in range(10))
    return [*digits, *bindings_of(place)]


class WalkScreen(ListScreen[Item]):
    """A list of what is to be looked at, in walking order; a number is typed at each."""

    MOST_SIGNS: ClassVar[int] = 5

    def __init__(self, session: Session) -> None:
        super().__init__(session)
        self._order: list[Item] = []
        self._typed = ""
        self._typed_at: Item | None = None
        self._asked: tuple[Item, str] | None = None
        self._doubt = ""
        self.ended = False
        """Whether the keeper went on behind the last item."""

    @property
    @abstractmethod
    def start(self) -> int:
        """The row to begin at."""

    @abstractmethod
    def kept(self, item: Item, text: str, *, anyway: bool) -> Callable[[], Outcome] | None:
        """What records the number that was typed at an item; None where the text is no number."""

    def not_kept(self, item: Item, text: str) -> str:  # noqa: ARG002 (some walks say more)
        """Why what was typed cannot be recorded."""
        return f"{text} is no number"

    @abstractmethod
    def took(self, item: Item, text: str) -> None:
        """A number was recorded: remember it for the list."""

    @abstractmethod
    def forget(self, item: Item) -> None:
        """The number recorded last at an item was taken back."""

    @abstractmethod
    def is_of(self, item: Item, what: What) -> bool:
        """Whether an entry is the record of an item."""

    @abstractmethod
    def said_at_end(self) -> str:
        """What to say behind the last item."""

    @property
    def typed(self) -> str:
        """What is typed at the current item, a cursor behind it; empty where nothing is."""
        return f"{self._typed}_" if self._typed else ""

    def question(self, item: Item) -> str:
        """What speaks against the number typed at an item, where that was asked."""
        return self._doubt if self._asked == (item, self._typed) else ""

    def on_mount(self) -> None:
        """Begin at the tank it was opened from."""
        super().on_mount()
        self.table.move_cursor(row=self.start, animate=False)

    def show_row(self, number: int) -> None:
        """Show one row as it stands now; the others stay as they are."""
        if not 0 <= number < len(self._items):
            return
        cells = self.row(self._items[number])
        for place, (_, width, of) in enumerate(self._shown()):
            text = Text(cut(cells[of], width - 1), no_wrap=True)
            self.table.update_cell_at(Coordinate(number, place), text)
        self._show_about()

    def on_data_table_row_highlighted(self, event: DataTable.RowHighlighted) -> None:
        """Another row: what was typed at the one before and not kept is dropped."""
        super().on_data_table_row_highlighted(event)
        at = self._typed_at
        if at is not None and at != self.current_item:
            self._type("")
            if at in self._items:
                self.show_row(self._items.index(at))

    def catch_up(self, tanks: frozenset[str]) -> None:
        """Others changed something: the list stays as it was when the walk began, but for what is typed here."""
        super(ListScreen, self).catch_up(tanks)

    def action_digit(self, digit: int) -> None:
        """Type a digit."""
        self.type_sign(str(digit))

    def type_sign(self, sign: str) -> None:
        """Type a sign; after a question it begins another number."""
        item = self.current_item
        before = "" if item is not None and self.question(item) else self._typed
        self._type((before + sign)[: self.MOST_SIGNS])

    def action_rub_out(self) -> None:
        """Take away the last sign."""
        self._type(self._typed[:-1])

    def _type(self, text: str) -> None:
        self._typed, self._typed_at = text, self.current_item if text else None
        self._asked, self.ended = None, False
        self.show_row(self.table.cursor_row)

    def action_next_count(self) -> None:
        """Keep the number typed, and go on to the next."""
        item = self.current_item
        if item is None or (self._typed and not self._keep(item, self._typed)):
            return
        self._typed, self._typed_at, self._asked = "", None, None
        self.go_to(self.table.cursor_row + 1)

    def _keep(self, item: Item, text: str) -> bool:
        """Record a number; where it is questioned or the ledger fails, say so and keep what was typed."""
        act = self.kept(item, text, anyway=self._asked == (item, text))
        if act is None:
            self.say(self.not_kept(item, text))
            return False
        try:
            outcome = act()
        except LedgerFault as fault:
            self.say(f"NOT SAVED. {fault}")
            return False
        if outcome.doubt is not None:
            self._asked, self._doubt = (item, text), doubt_text(self.session.room, outcome.doubt)
            self.say(f"{text}? {self.key('next_count')} keeps it, a digit begins another number")
            self._show_about()
            return False
        self.after(outcome)
        if outcome.done:
            self.took(item, text)
            self._order = [*(each for each in self._order if each != item), item]
        return outcome.done

    def action_uncount(self) -> None:
        """Take back the last number kept here, and go back to it."""
        if not self._order:
            self.say("nothing was kept here yet")
            return
        item = self._order[-1]
        act = self._act_of(item)
        self.record(self.session.undo if act is None else lambda: self.session.take_back([act]))
        self._order.pop()
        self.forget(item)
        self._typed, self._typed_at, self._asked = "", None, None
        self.go_to(self._items.index(item))

    def _act_of(self, item: Item) -> RecentAct | None:
        """The newest act of today that records an item; None where it is not saved yet."""
        if self.session.unsaved:
            return None
        return next((act for act in self.session.recent() if self.is_of(item, act.entries[0].what)), None)

    def go_to(self, row: int) -> None:
        """Go to a row; behind the last one, say that all were seen."""
        before, last = self.table.cursor_row, len(self._items) - 1
        self.show_row(before)
        self.table.move_cursor(row=min(row, last), animate=False)
        self.show_row(min(row, last))
        self.ended = row > last
        if self.ended:
            self.say(self.said_at_end())
