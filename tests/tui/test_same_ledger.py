"""The same acts by keys in the dashboard and through a session leave the same ledger, to the last byte."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import timedelta
from pathlib import Path
from random import Random

import pytest

from schedules.ledger.copies.exporting import export_lines
from schedules.ledger.stores.sqlite import open_ledger
from schedules.room_file import load_room
from schedules.session.session import Session
from tests.session.doors import START, opened_room
from tests.tui.hand import Hand, at_work
from tui.screens.dialogs.leave_out import REASONS

Keys = tuple[str, ...]
Act = tuple[Keys, Callable[[Session], object]]
"""Keys in the dashboard, and the same act in a session."""


def acts_at(session: Session, tank: str) -> Iterator[Act]:
    """What a keeper can do at a tank's stop just now."""
    stop = next(each for each in session.sheet.stops if each.tank == tank)
    due = [each.due.feed for each in stop.servings if session.is_due(each)]
    for number, serving in enumerate(stop.servings, 1):
        if serving.due.feed in due:
            yield (str(number),), lambda to, feed=serving.due.feed: to.give(tank, feed)  # type: ignore[misc]
    if due:
        whole = () if len(due) == 1 else ("enter",)
        yield ("s", "2", *whole), lambda to: to.skip(tank, due, REASONS[1])
    given = {what.feed for _, what in session.history.served_on(tank, session.day)}
    if len(given) == 1:
        (fed,) = given
        yield ("l", "1", "2"), lambda to: to.observe(tank, fed, "some")
        yield ("d", "1", "3"), lambda to: to.came(tank, fed, "nobody")
    yield ("n", "4", "2", "enter"), lambda to: to.note(tank, "42")
    yield ("u", "u"), lambda to: to.undo()


async def stands_at(hand: Hand, tank: str) -> None:
    await hand.press("home")
    await hand.until(lambda: hand.app.session.sheet.stops[0].tank == tank, f"stop of {tank}")


@pytest.mark.parametrize("seed", range(4))
async def test_keys_and_session_leave_the_same_ledger(tmp_path: Path, seed: int) -> None:
    rng, now = Random(seed), START
    left = []
    room = load_room(opened_room(tmp_path / "keys") / "room.toml")
    opened_room(tmp_path / "session")
    ledgers = [open_ledger(tmp_path / door / "room.ledger.db") for door in ("keys", "session")]
    by_keys, by_acts = (Session(room, ledger, lambda: now, "Mara", posts="today") for ledger in ledgers)

    async with at_work(by_keys) as hand:
        for step in range(9):
            now = START + timedelta(minutes=step)
            keys, act = rng.choice(list(acts_at(by_acts, "a1")))
            before = ledgers[1].last_seq()
            act(by_acts)
            await stands_at(hand, "a1")
            for key in keys:  # one by one, as each box has to open first
                await hand.press(key)
            await hand.until(lambda: ledgers[0].last_seq() >= ledgers[1].last_seq(), f"{keys} after entry {before}")
            await hand.press("escape")
    for ledger in ledgers:
        left.append(list(export_lines(ledger)))
        ledger.close()

    assert left[0] == left[1]
    assert len(left[0]) > 4
