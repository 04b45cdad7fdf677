"""What most commands start from: a session on the room and ledger that the options name."""

from __future__ import annotations

import os
import sys
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from datetime import UTC, datetime
from pathlib import Path

from schedules.ledger import Away, Ledger
from schedules.ledger.clock import clock_fault
from schedules.ledger.stores.opening import open_at
from schedules.room import Feed, Room, Tank
from schedules.room.place import Place, place_of
from schedules.session.open_round import Posts
from schedules.session.session import Session
from tui.cli.fault import CommandFault
from tui.cli.options import Options, nearest
from tui.cli.out import warn
from tui.kept_room import kept_room


@contextmanager
def open_session(options: Options, posts: Posts) -> Iterator[Session]:
    """Read the room file, open its ledger, settle the moment and the keeper; close the ledger at the end.

    `posts` says what is posted where it was not yet. The clock stands still while a command runs.
    """
    room = kept_room(options.room_file, keep=False)
    ledger = open_at(ledger_place(options, room))
    try:
        now = moment(options.now, room)
        odd = clock_fault(ledger.last_at(), now)
        if odd is not None:
            warn(f"rackround: {odd}")
        yield Session(room, ledger, lambda: now, who(options.by, room, ledger), posts=posts)
    finally:
        ledger.close()


def plan_coming_days(session: Session, text: str) -> None:
    """Plan the days after today where that was not done yet; `text` says so where somebody waits for it."""
    if not session.knows_coming_days:
        if sys.stderr.isatty():
            warn(f"rackround: {text}")
        session.plan_coming_days()


def ledger_place(options: Options, room: Room | None = None) -> Place:
    """Where the ledger is: beside the room file where neither the options nor the file name another place.

    Without a room, the file is looked into; it need not be sound.
    """
    if options.ledger is not None:
        return options.ledger
    # Imported here and not above: a room that is kept is opened without what reads room files.
    from schedules.room_file.schema.ledger_key import named_ledger

    named = named_ledger(options.room_file) if room is None else room.ledger
    return place_of(named, options.room_file.parent) if named else options.room_file.with_suffix(".ledger.db")


def state_folder() -> Path:
    """The user's own folder for what must outlast the program."""
    if sys.platform == "win32":
        return Path(os.environ.get("LOCALAPPDATA", str(Path.home()))) / "rackround"
    return Path(os.environ.get("XDG_STATE_HOME") or Path.home() / ".local" / "state") / "rackround"


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


def who(by: str | None, room: Room, ledger: Ledger) -> str:
    """Who acts: a keeper, or a helper whom a leave plan names."""
    if by is None or not room.keepers or by in {keeper.name for keeper in room.keepers}:
        return keeper(by, room)
    helpers = {entry.what.helper for entry in ledger.of_kind("away") if isinstance(entry.what, Away)}
    return by if by in helpers else keeper(by, room)


def tank_named(room: Room, name: str) -> Tank:
    """The tank with this id."""
    return room.tanks[known(name, room.tanks, "tank")]


def feed_named(room: Room, name: str) -> Feed:
    """The feed with this id."""
    return room.feeds[known(name, room.feeds, "feed")]


def known(name: str, names: Iterable[str], word: str) -> str:
    """A name that is known, or a fault that suggests the nearest one."""
    allowed = list(names)
    if name in allowed:
        return name
    near = nearest(name, allowed)
    hint = f'did you mean "{near}"?' if near else f"known: {', '.join(allowed[:12])}"
    raise CommandFault(f'no {word} "{name}" in this room; {hint}')
