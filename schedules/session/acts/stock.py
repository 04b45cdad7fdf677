"""The acts at the shelf: a delivery, a pack opened, a feed weighed."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING

from schedules.formatting import clean
from schedules.ledger import Delivered, Opened, Weighed
from schedules.session.acts.writing import Writing
from schedules.session.outcome import Outcome

if TYPE_CHECKING:
    from schedules.stock import Stock


class StockActs(Writing):
    """A round in which the shelf can be looked after."""

    def stock(self) -> Stock:
        """What is there of each feed, when it runs out, what to order."""
        # Imported here and not above: it looks ahead, which a round that is only walked does without.
        from schedules.stock.reading import stock_of

        return stock_of(self.ledger, self.room, self.history, self.day)

    def deliver(
        self, feed: str, grams: float, lot: str | None = None, use_by: date | None = None, *, day: date | None = None
    ) -> Outcome:
        """Record grams of a feed that came in, with lot and use-by date where the pack names them."""
        date_text = None if use_by is None else use_by.isoformat()
        return self._write("deliver", [Delivered(feed, grams, clean(lot or "") or None, date_text)], day)

    def open_pack(self, feed: str, lot: str | None = None, *, day: date | None = None) -> Outcome:
        """Record that a pack was opened: from then on its date counts."""
        return self._write("open_pack", [Opened(feed, clean(lot or "") or None)], day)

    def weigh(self, feed: str, grams: float, *, day: date | None = None) -> Outcome:
        """Record how much of a feed there is, all packs together."""
        return self._write("weigh", [Weighed(feed, grams)], day)
