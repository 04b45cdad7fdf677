"""What is worked out beside the round, so that no screen waits for it."""

from __future__ import annotations

import threading
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from schedules.review.flags import Flag, flags
from tests.tui.hand import at_work
from tests.tui.rooms import make_session


async def test_flags_are_all_worked_out_although_no_screen_asked(tmp_path: Path) -> None:
    async with at_work(make_session(tmp_path)) as hand:
        assert not hand.app.session.flags_to_find


async def test_after_a_mark_the_flags_of_that_tank_are_worked_out_again_by_themselves(tmp_path: Path) -> None:
    async with at_work(make_session(tmp_path)) as hand:
        session = hand.app.session
        stop = session.sheet.stops[0]
        session.finish(stop)
        assert session.flags_to_find == (stop.tank,)
        await hand.until(lambda: not session.flags_to_find, "the flags of the marked tank")


async def test_a_worker_that_fails_is_said_in_a_line_and_not_tried_again_and_again(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked: list[str] = []

    def failing(room: Any, *_others: Any) -> tuple[Flag, ...]:
        asked.append(next(iter(room.tanks)))
        raise ValueError("no [flags] today")

    async with at_work(make_session(tmp_path)) as hand:
        monkeypatch.setattr("tui.workers.flags", failing)
        stop = hand.app.session.sheet.stops[0]
        hand.app.session.finish(stop)
        await hand.sees("The flags could not be worked out: ValueError: no [flags] today")
        for _ in range(3):
            hand.app.look()
        await hand.until(lambda: hand.app.background.done, "the end")

        assert asked == [stop.tank]


async def test_a_worker_that_was_replaced_hands_nothing_over(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    begun, go_on, real = threading.Event(), threading.Event(), flags
    first = iter((True,))

    def slow_at_first(room: Any, *others: Any) -> tuple[Flag, ...]:
        if next(first, False):
            begun.set()
            go_on.wait()
            raise ValueError("too late to matter")
        return real(room, *others)

    async with at_work(make_session(tmp_path)) as hand:
        monkeypatch.setattr("tui.workers.flags", slow_at_first)
        hand.app.session.finish(hand.app.session.sheet.stops[0])
        hand.app.background.start()
        await hand.until(begun.is_set, "the first worker")
        hand.app.background.start()
        await hand.until(lambda: hand.app.background.done, "the second worker")
        go_on.set()
        for thread in _working(hand.app):
            await hand.until(lambda thread=thread: thread.is_finished, "the first worker's end")  # type: ignore[misc]

        assert "could not be worked out" not in hand.text
        assert not hand.app.session.flags_to_find


def _working(app: Any) -> Iterator[Any]:
    return (worker for worker in app.workers if worker.group == "flags")


def test_the_mixes_of_a_round_are_known_as_soon_as_it_is_opened(tmp_path: Path) -> None:
    session = make_session(tmp_path)
    assert session.doses.bottles
    assert any(session.doses.of(serving.due) for stop in session.sheet.stops for serving in stop.servings)
