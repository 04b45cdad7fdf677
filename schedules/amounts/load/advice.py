"""What can be done where too much was fed: only what is possible. What is dissolved cannot be taken out."""

from __future__ import annotations

from typing import Literal

from schedules.room.kinds import Table

Advice = Literal["take_out", "no_fine_for_two_days", "no_fan_for_two_days", "aerate", "watch_haze", "test_ammonia"]


def advice_for(table: Table, *, much: bool = False) -> tuple[Advice, ...]:
    """What to do after too much at a table, first things first; `much` where ammonia has to be measured as well."""
    test: tuple[Advice, ...] = ("test_ammonia",) if much else ()
    if table == "ground":
        return ("take_out", *test)
    stop: Advice = "no_fine_for_two_days" if table == "fine" else "no_fan_for_two_days"
    return (stop, "aerate", "watch_haze", *test)
