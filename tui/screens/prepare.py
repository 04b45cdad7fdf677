"""Before the round: what to take, weigh and mix, how long it will take, which tanks need care today and why."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import groupby
from typing import ClassVar, Final

from textual.binding import BindingType
from textual.content import Content

from schedules.amounts import Pick, prepare
from schedules.amounts.mixing.pick_list import Stage
from schedules.review.flags import Flag
from schedules.room import Room
from schedules.wording.flags import evidence_text
from schedules.wording.pick_list import length_lines, pick_text
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


class PrepareScreen(TextScreen):
    """What the round needs, for everything due in it when the day began."""

    place = "prepare"
    subject = "before the round"
    BINDINGS: ClassVar[list[BindingType]] = [*bindings_of("prepare")]

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
