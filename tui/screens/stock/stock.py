"""The shelf: what there is of each feed, when it runs out, what to order; deliveries, packs opened, weighings."""

from __future__ import annotations

from typing import ClassVar

from textual import work
from textual.binding import BindingType

from schedules.formatting import date_text, grams_text
from schedules.session.outcome import Outcome
from schedules.session.session import Session
from schedules.stock import Outlook
from schedules.wording.stock.shelf import detail_lines, feed_text, order_text, uses_text
from tui.acts import bindings_of
from tui.screens.bases.list_screen import ListScreen
from tui.screens.dialogs.ask import Ask
from tui.screens.stock.typed import Arrival, read_arrival, read_grams


class StockScreen(ListScreen[Outlook]):
    """Every feed of the room file, those to be ordered first."""

    place = "stock"
    subject = "the shelf"
    nothing = "No feed in this room."
    columns = (("feed", None), ("there is", 12), ("a week", 9), ("runs out", 11), ("order", 27))
    left_out = frozenset(("a week", "there is"))
    BINDINGS: ClassVar[list[BindingType]] = [*bindings_of("stock")]

    def __init__(self, session: Session) -> None:
        super().__init__(session)
        self._stock = session.stock()

    def items(self) -> tuple[Outlook, ...]:
        """Those with an order first, the most pressing before the others."""
        orders = self._stock.orders
        named = {each.feed for each in orders}
        return (*orders, *(each for each in self._stock.feeds if each.feed not in named))

    def row(self, item: Outlook) -> tuple[str, ...]:
        """The feed, what there is, what it uses, when it runs out, what to order."""
        there = "not weighed" if item.shelf is None else grams_text(item.shelf.likely)
        out = "" if item.out_likely is None else date_text(item.out_likely)
        order = "" if item.order is None else order_text(item.order, self._stock.day).removeprefix("order ")
        return self.session.room.feeds[item.feed].name, there, uses_text(item).removesuffix(" a week"), out, order

    def about(self, item: Outlook) -> str:
        """The feed in full."""
        return "\n".join([feed_text(self.session.room, item, self._stock.day), *detail_lines(item, self._stock.day)])

    def tank_of(self, item: Outlook) -> str | None:  # noqa: ARG002 (a feed is in no tank)
        """None: the shelf is in no tank."""
        return None

    @work
    async def action_delivered(self) -> None:
        """Write down a delivery: grams, and after them lot and use-by date where the pack names them."""
        feed = self._feed
        if feed is None:
            return
        title = f"{self._called(feed)}: how many grams came? A lot and a use-by date may follow: 50 K7 2027-03-31"
        typed = await self.app.push_screen_wait(Ask(title, check=lambda text: _fault(read_arrival(text))))
        arrival = None if typed is None else read_arrival(typed)
        if isinstance(arrival, Arrival):
            self.record(lambda: self.session.deliver(feed, arrival.grams, arrival.lot, arrival.use_by))

    @work
    async def action_opened(self) -> None:
        """Write down that a pack was opened: its date counts from now on."""
        feed = self._feed
        if feed is None:
            return
        title = f"{self._called(feed)}: which lot was opened? Enter alone where the pack names none"
        lot = await self.app.push_screen_wait(Ask(title, limit=60))
        if lot is not None:
            self.record(lambda: self.session.open_pack(feed, lot))

    @work
    async def action_weighed(self) -> None:
        """Write down how much there is."""
        feed = self._feed
        if feed is None:
            return
        title = f"{self._called(feed)}: how many grams are there, all packs together?"
        typed = await self.app.push_screen_wait(Ask(title, limit=9, check=lambda text: _fault(read_grams(text))))
        grams = None if typed is None else read_grams(typed)
        if isinstance(grams, float):
            self.record(lambda: self.session.weigh(feed, grams))

    @property
    def _feed(self) -> str | None:
        item = self.current_item
        return None if item is None else item.feed

    def _called(self, feed: str) -> str:
        return self.session.room.feeds[feed].name

    def after(self, outcome: Outcome) -> None:
        """Say what an act came to, and list the shelf as it is now."""
        super().after(outcome)
        self._look_again()

    def _look_again(self) -> None:
        feed = self._feed
        self._stock = self.session.stock()
        self.fill()
        rows = [each.feed for each in self.items()]
        if feed in rows:
            self.table.move_cursor(row=rows.index(feed), animate=False)

    def catch_up(self, tanks: frozenset[str]) -> None:
        """Something was given or taken back: what there is is less or more."""
        super().catch_up(tanks)
        self._look_again()


def _fault(found: object) -> str:
    return found if isinstance(found, str) else ""
