"""What most commands start from: the room, its ledger, the moment, the keeper."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import UTC, date, datetime
from pathlib import Path

from schedules.history import History
from schedules.history.history import history_of
from schedules.ledger import Ledger
from schedules.ledger.clock import clock_fault
from schedules.ledger.stores.sqlite import open_ledger
from schedules.planning.opening import open_day
from schedules.room import Feed, Room, Tank
from schedules.room_file import load_room
from tui.cli.fault import CommandFault
from tui.cli.out import warn


@dataclass(frozen=True, slots=True)
class Options:
    """The options every command has: the clock's moment (None: the real one), the ledger's place, who, own keys."""

    room_file: Path = Path()
    now: datetime | None = None
    ledger: Path | None = None
    by: str | None = None
    keys: Path | None = None


@dataclass(frozen=True, slots=True)
class Session:
    """An open room: `now` is aware, `by` a keeper of the room."""

    room: Room
    ledger: Ledger
    now: datetime
    by: str

    @property
    def today(self) -> date:
        """The room's date."""
        return self.room.day(self.now)

    def history(self, *, post: bool = False, at_once: bool = False) -> History:
        """What holds now; with `post` today's plan is written down first where it was not yet.

        With `at_once` that is today's alone; posting again without it adds the days after.
        """
        if post:
            return open_day(self.room, self.ledger, self.now, at_once=at_once)
        return history_of(self.ledger, self.today)

    def tank(self, name: str) -> Tank:
        """The tank with this id."""
        return self.room.tanks[known(name, self.room.tanks, "tank")]

    def feed(self, name: str) -> Feed:
        """The feed with this id."""
        return self.room.feeds[known(name, self.room.feeds, "feed")]


@contextmanager
def open_session(options: Options) -> Iterator[Session]:
    """Read the room file, open its ledger, settle the moment and the keeper; close the ledger at the end."""
    room = load_room(options.room_file)
    ledger = open_ledger(ledger_path(options))
    try:
        now = moment(options.now, room)
        odd = clock_fault(ledger.last_at(), now)
        if odd is not None:
            warn(f"rackround: {odd}")
        yield Session(room, ledger, now, keeper(options.by, room))
    finally:
        ledger.close()


def ledger_path(options: Options) -> Path:
    """Where the ledger is: beside the room file unless told otherwise."""
    return options.ledger or options.room_file.with_suffix(".ledger.db")


def moment(now: datetime | None, room: Room) -> datetime:
    """The moment commands act at: the clock's, or the one set, read in the room's zone where it names none."""
    if now is None:
        return datetime.now(UTC)
    return (now if now.tzinfo else now.replace(tzinfo=room.zone)).astimezone(UTC)


def keeper(by: str | None, room: Room) -> str:
    """Who acts: the keeper named, else the room's first."""
    names = [keeper.name for keeper in room.keepers]
    if by is None:
        return names[0] if names else "keeper"
    return known(by, names, "keeper") if names else by


def known(name: str, names: Iterable[str], word: str) -> str:
    """A name that is known, or a fault that suggests the nearest one."""
    allowed = list(names)
    if name in allowed:
        return name
    # Imported here and not above: only a fault needs it.
    from difflib import get_close_matches

    near = get_close_matches(name, allowed, n=1, cutoff=0.5)
    hint = f'did you mean "{near[0]}"?' if near else f"known: {', '.join(allowed[:12])}"
    raise CommandFault(f'no {word} "{name}" in this room; {hint}')
