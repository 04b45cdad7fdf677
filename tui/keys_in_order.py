"""Keys and pastes one after the other: each waits until the one before, and the boxes it opens or closes, are done.

Without this, a key that comes at once after another reaches the screen that lies there still, below the box that is
about to open: `s 1` sent by a program would mark a serving instead of picking a reason.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Callable
from typing import Any, Final
from weakref import WeakSet

from textual.app import App
from textual.events import Key, Paste
from textual.message import Message
from textual.message_pump import MessagePump
from textual.worker import Worker

LOOK_SECONDS: Final = 0.01
"""Between two looks whether the next key can go on; nobody looks while none waits."""
PATIENCE: Final = 200
"""Looks after which nothing more is expected of what was waited for."""
ROUNDS: Final = 2
"""How often the follower goes the key's way: a submitted line sends a message of its own when the key ends."""
ASKING: Final = "default"
"""The group of workers in which acts ask something; what works beside the round has groups of its own."""


Typed = Key | Paste


class KeyDone(Message):
    """Follows a key through the same queues up to the app: when it comes there, the key was dealt with."""

    def __init__(self, key: Typed, start: MessagePump, rounds: int) -> None:
        super().__init__()
        self.key = key
        self.start = start
        self.rounds = rounds


class KeysInOrder:
    """Lets the app's keys pass one at a time. `clock` gives seconds and only goes forward."""

    def __init__(self, app: App[Any], clock: Callable[[], float]) -> None:
        self._app = app
        self._clock = clock
        self._waiting: deque[tuple[Typed, float]] = deque()
        self._under_way: Typed | None = None
        self._next: tuple[Typed, float] | None = None
        self._looks = 0
        self._given_up: WeakSet[Worker[Any]] = WeakSet()
        self.pressed_at = clock()
        """When the key under way came in, however long it had to wait then."""

    @property
    def any_wait(self) -> bool:
        """Whether any key waits or is under way, or a box is about to open."""
        return bool(self._waiting or self._next or self._under_way) or not self._is_settled()

    def may_pass(self, key: Typed) -> bool:
        """Whether a key can go on now; one that cannot comes again by itself when it can."""
        if self._next is not None and self._next[0] is key:
            self.pressed_at, self._next = self._next[1], None
        elif self._waiting or self._next or self._under_way or not self._is_settled():
            self._waiting.append((key, self._clock()))
            if len(self._waiting) == 1:
                self._looks = 0
                self._app.set_timer(LOOK_SECONDS, self._look)
            return False
        else:
            self.pressed_at = self._clock()
        self._under_way = key
        return True

    def follow(self, key: Typed, start: MessagePump, rounds: int = ROUNDS) -> None:
        """Find out when a key that passed has been dealt with; `start` is what it was sent to."""
        if rounds == 0 or not start.post_message(KeyDone(key, start, rounds)):
            self._end(key)

    def came_back(self, done: KeyDone) -> None:
        """A follower is back: send it once more, or let the next key pass."""
        self.follow(done.key, done.start, done.rounds - 1)

    def _end(self, key: Typed) -> None:
        if key is self._under_way:
            self._under_way = None
            self._go_on()

    def _look(self) -> None:
        self._looks += 1
        if self._looks >= PATIENCE:  # what was under way is gone with its screen
            self._looks, self._under_way = 0, None
            self._given_up.update(self._asking())
        self._go_on()
        if self._waiting:
            self._app.set_timer(LOOK_SECONDS, self._look)

    def _go_on(self) -> None:
        if self._waiting and not self._under_way and not self._next and self._is_settled():
            self._looks = 0
            self._next = self._waiting.popleft()
            self._app.post_message(self._next[0])

    def _asking(self) -> list[Worker[Any]]:
        running = [worker for worker in self._app.workers if worker.group == ASKING and not worker.is_finished]
        return [worker for worker in running if worker not in self._given_up]

    def _is_settled(self) -> bool:
        """Whether what is on the screen is what the next key is meant for: no box is about to open there."""
        screen = self._app.screen
        return bool(getattr(screen, "takes_keys", True)) and (screen.is_modal or not self._asking())
