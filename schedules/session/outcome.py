"""What an act came to, as a code with values. The words for it are in `schedules.wording.outcomes`."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final, Literal

from schedules.chores import ChoreDue
from schedules.ledger import Entry
from schedules.round import Refusal
from schedules.session.doubts.animals import Doubt
from schedules.session.doubts.water import WaterDoubt
from schedules.session.unsaved import Act, Beaten

Result = Literal[
    "recorded",
    "kept",
    "refused",
    "already_marked",
    "cannot_be_written",
    "nothing_due",
    "not_due",
    "no_text",
    "not_here",
    "no_values",
    "nothing_to_undo",
    "dropped",
    "saved",
]
DONE: Final[frozenset[Result]] = frozenset(("recorded", "dropped", "saved"))


@dataclass(frozen=True, slots=True)
class Outcome:
    """What became of an act.

    - `recorded`: `act` is in the ledger.
    - `kept`: the ledger would not take it (`fault` says why); `act` waits and is tried again.
    - `refused`: `refusal` forbids a serving, or `doubt` questions a sighting or a reading, and the keeper may insist.
    - `already_marked`: somebody else was faster; `winner` is the entry that holds.
    - `cannot_be_written`: `fault` says what of `act` no ledger could hold.
    - `nothing_due`, `not_due`, `no_text`, `no_values`, `nothing_to_undo`: there was nothing to do; `feeds` are those
      not due.
    - `dropped`: `act` had not been saved yet and was taken back.
    - `saved`: `count` unsaved acts were tried again; what others had done already is in `beaten`.
    - `not_here`: the chore is none of the room's, or is not done at that place.

    `tanks` are the tanks whose state may have changed, or that the act was about. `by` is the keeper who acted. `chore`
    is a chore as it stood before the act.
    """

    result: Result
    by: str
    act: Act | None = None
    tanks: frozenset[str] = frozenset()
    undoable: bool = False
    feeds: tuple[str, ...] = ()
    refusal: Refusal | None = None
    doubt: Doubt | WaterDoubt | None = None
    winner: Entry | None = None
    fault: str = ""
    count: int = 0
    beaten: tuple[Beaten, ...] = ()
    chore: ChoreDue | None = None

    @property
    def done(self) -> bool:
        """Whether the act did what was asked."""
        return self.result in DONE

    @property
    def kept(self) -> bool:
        """Whether the act waits to be saved."""
        return self.result == "kept"
