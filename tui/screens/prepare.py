"""Before the round: what to take, weigh and mix, how long it will take, which tanks need care today and why."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from datetime import date
from functools import partial
from itertools import groupby
from typing import ClassVar, Final

from textual.binding import BindingType
from textual.content import Content
from textual.worker import get_current_worker

from schedules.amounts import Pick, prepare
from schedules.amounts.mixing.pick_list import Stage
from schedules.history import History
from schedules.ledger import Ledger, LedgerFault
from schedules.review.flags import Flag
from schedules.room import Room
from schedules.session.session import Session
from schedules.stock import stock_of
from schedules.wording.flags import evidence_text
from schedules.wording.pick_list import length_lines, pick_text
from schedules.wording.stock.shelf import order_now_lines
from tui.acts import bindings_of
from tui.screens.bases.text_screen import TextScreen
from tui.widgets.cells import cut, wrap

HEADS: Final[dict[Stage, str]] = {
    "shelf": "From the shelf",
    "weigh": "Weigh",
    "mix": "Mix",
    "carry": "Carry",
    "quarantine": "For quarantine, with its own tools",
}
CARE_SHOWN: Final = 6
ORDERS_SHOWN: Final = 3


class PrepareScreen(TextScreen):
    """What the round needs, for everything due in it when the day began."""

    place = "prepare"
    subject = "before the round"
    BINDINGS: ClassVar[list[BindingType]] = [*bindings_of("prepare")]

    def __init__(self, session: Session) -> None:
        super().__init__(session)
        self._orders: tuple[str, ...] = ()

    def on_mount(self) -> None:
        """Take the keys, and look at the shelf meanwhile."""
        super().on_mount()
        self._look_at_shelf()

    def catch_up(self, tanks: frozenset[str]) -> None:
        """Things changed: show the text again, and look at the shelf again."""
        super().catch_up(tanks)
        self._look_at_shelf()

    def _look_at_shelf(self) -> None:
        """Work out in a thread what runs out: the whole shelf is looked through for it."""
        session = self.session
        work = partial(self._find_orders, session.ledger, session.room, session.history, session.day)
        self.run_worker(work, thread=True, exclusive=True, group="shelf", exit_on_error=False)

    def _find_orders(self, ledger: Ledger, room: Room, history: History, day: date) -> None:
        worker = get_current_worker()
        try:
            found = order_now_lines(room, stock_of(ledger, room, history, day))
        except LedgerFault as fault:
            found = [f"the shelf is not known: {fault}"]
        if not worker.is_cancelled:
            self.call_later(self._take_orders, tuple(found))

    def _take_orders(self, found: tuple[str, ...]) -> None:
        if found != self._orders:
            self._orders = found
            self.show_text()

    def lines(self, width: int) -> Iterable[Content]:
        """Time, shelf, weighing, mixing, carrying; then the tanks that need care."""
        doses = self.session.doses
        prepared = prepare(self.session.room, self.session.history, doses.servings, self.session.day)
        feeding, *chores = length_lines(self.session.sheet, doses.servings, prepared.minutes)
        yield Content.styled(feeding, "bold")
        yield from (Content(cut(line, width)) for line in chores)
        flags = self.session.standing(flag for flag in self.session.flags() if flag.severity == "high")
        if flags:
            tanks_said = ", ".join(dict.fromkeys(flag.tank for flag in flags))
            yield Content.styled(cut(f"! care today, see the end: {tanks_said}", width), "$warning")
        for line in self._orders[:ORDERS_SHOWN]:
            yield Content.styled(cut(f"! {line}", width), "$warning")
        if len(self._orders) > ORDERS_SHOWN:
            yield Content.styled(
                f"! and {len(self._orders) - ORDERS_SHOWN} more to order now: see the shelf", "$warning"
            )
        yield from self._picks(prepared.picks, width)
        yield from _care(self.session.room, flags, width)

    def _picks(self, listed: Sequence[Pick], width: int) -> Iterator[Content]:
        room = self.session.room
        for stage, picks in groupby(listed, key=lambda pick: pick.stage):
            yield Content("")
            yield Content.styled(HEADS[stage], "bold $primary")
            for pick in picks:
                first, *rest = wrap(pick_text(room, pick), width - 4)
                yield Content(f"  · {first}")
                yield from (Content(f"    {line}") for line in rest)


def _care(room: Room, found: Sequence[Flag], width: int) -> Iterator[Content]:
    """The tanks with the worst flags, with their evidence."""
    yield Content("")
    if not found:
        yield Content.styled("No tank needs special care today", "bold $primary")
        return
    yield Content.styled("These tanks need care today", "bold $primary")
    for flag in found[:CARE_SHOWN]:
        first, *rest = wrap(f"{flag.tank}: {evidence_text(room, flag)}", width - 4)
        yield Content.styled(f"  ! {first}", "$warning")
        yield from (Content.styled(f"    {line}", "$warning") for line in rest)
    if len(found) > CARE_SHOWN:
        yield Content(f"    and {len(found) - CARE_SHOWN} more among the flags")
