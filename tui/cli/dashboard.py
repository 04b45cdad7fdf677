"""Opening the dashboard on a room, on the invented one, or on what the keeper chooses where no room is named."""

from __future__ import annotations

import os
import sys
from argparse import Namespace
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import TYPE_CHECKING

from schedules.ledger.stores.opening import open_at
from schedules.room.place import Server
from tui.cli.fault import OK, CommandFault, FileFaults
from tui.cli.options import Options
from tui.cli.session import ledger_place, moment, state_folder, who
from tui.garbage import go_on, put_off
from tui.terminal import ended_by_signals

if TYPE_CHECKING:
    from schedules.session.session import Session

STARTER = Path("room.toml")
"""Where the starter goes for whoever named no file."""


def open_dashboard(options: Options, asked: Namespace) -> int:
    """Open today's round of a room; a faulty room file or ledger is shown until it is put right or given up."""
    _need_terminal()
    with ended_by_signals():
        return _open_dashboard(options, keep=True, only_me=asked.only_me)


def _open_dashboard(options: Options, *, keep: bool, only_me: bool = False) -> int:
    """Open the dashboard; with `keep`, its room is kept for the next start, with `only_me` one keeper acts in it."""
    # Imported here and not above: the other commands run without the dashboard.
    from tui.app import RackroundApp
    from tui.plan_process import by_command
    from tui.preferences import PreferencesFaults, load_preferences
    from tui.theme import DUSK

    try:
        preferences = load_preferences(options.keys)
    except PreferencesFaults as faults:
        raise FileFaults(faults.lines) from None
    put_off()
    session = _open_or_wait(options, keep=keep)
    if isinstance(session, CommandFault):
        raise session
    try:
        theme = preferences.theme or DUSK.name
        coming = by_command(options.room_file, ledger_place(options, session.file_room))
        app = RackroundApp(
            session,
            keys=preferences.keys,
            theme=theme,
            room_file=options.room_file,
            coming=coming,
            only_me=only_me,
        )
        app.run()
    finally:
        go_on()
        session.unsaved.close()
        session.ledger.close()
    return app.return_code or OK


def _open_or_wait(options: Options, *, keep: bool) -> Session | CommandFault:
    """What opening comes to; where it fails, what the start-up screen comes to, which tries again."""
    try:
        return _opened(options, keep=keep)
    except Exception as error:
        # Imported here and not above: a room that opens needs no start-up screen.
        from tui.screens.start_up import wait_until_open

        go_on()
        return wait_until_open(lambda: _opened(options, keep=keep), error, lambda: _accept_lost_end(options))


def _accept_lost_end(options: Options) -> int:
    from schedules.ledger.stores.sqlite import accept_lost_end

    place = ledger_place(options)
    if isinstance(place, Server):  # never asked: only the end of a file can be lost
        raise CommandFault(f"{place}: only the end of a file can be lost")
    return accept_lost_end(place)


def _need_terminal() -> None:
    # A browser's page has no terminal: there Textual's driver is named by the environment.
    if not sys.stdin.isatty() and "TEXTUAL_DRIVER" not in os.environ:
        raise CommandFault("the dashboard needs a terminal; `rackround round ROOM.toml` prints the round without one")


def _opened(options: Options, *, keep: bool) -> Session | CommandFault:
    """The session of a room; what is wrong with the command itself comes back, since waiting would not mend it."""
    from schedules.session.session import Session
    from tui.kept_room import kept_room

    room = kept_room(options.room_file, keep=keep)
    # The dashboard tries again by itself what another program holds up, so that no key waits long for it.
    ledger = open_at(ledger_place(options, room), patience=1.0)
    try:
        clock = _clock(options, moment(options.now, room))
        return Session(room, ledger, clock, who(options.by, room, ledger), posts="today", keep_in=state_folder())
    except CommandFault as fault:
        ledger.close()
        return fault
    except BaseException:
        ledger.close()
        raise


def _clock(options: Options, start: datetime) -> _Clock:
    return _Clock(start - datetime.now(UTC) if options.now is not None else timedelta())


class _Clock:
    """The real clock, or one that was set with --now and goes on from there."""

    def __init__(self, ahead: timedelta) -> None:
        self._ahead = ahead

    def __call__(self) -> datetime:
        return datetime.now(UTC) + self._ahead


def open_first(options: Options, _asked: Namespace) -> int:
    """No room was named: offer the demo or a starter file, in a terminal; else say what there is."""
    from tui.cli.new import write_starter
    from tui.screens.start_up import ask_first

    _need_terminal()
    go_on()
    choice = ask_first()
    if choice == "demo":
        return open_demo(options, Namespace(keep=None))
    if choice == "starter":
        return write_starter(replace(options, room_file=STARTER), Namespace(yes=False))
    return OK


def open_demo(options: Options, asked: Namespace) -> int:
    """Open the invented room with its invented past, in a throwaway folder or in one that is kept."""
    _need_terminal()
    if asked.keep is not None:
        return _demo_in(asked.keep, options, keep=True)
    # Imported here and not above: nobody else needs a folder to throw away.
    from tempfile import TemporaryDirectory

    with ended_by_signals(), TemporaryDirectory(prefix="rackround-demo-") as folder:
        return _demo_in(Path(folder), options, keep=False)


def _demo_in(folder: Path, options: Options, *, keep: bool) -> int:
    """Make the demo in a folder unless it is there already, and open it."""
    room_file = folder / "demo.toml"
    if not room_file.exists():
        make_demo(room_file, options)
    with ended_by_signals():
        return _open_dashboard(replace(options, room_file=room_file), keep=keep)


def make_demo(room_file: Path, options: Options) -> None:
    """Write the invented room, its dates moved to now, and the ledger of its past."""
    from demo_racks import room_path
    from demo_racks.fresh import fresh_text
    from demo_racks.past import write_past
    from schedules.room_file import load_room, load_room_text

    text = room_path("breeding_room").read_text(encoding="utf-8")
    room = load_room_text(text, room_file.name)
    today = room.day(moment(options.now, room))
    try:
        room_file.parent.mkdir(parents=True, exist_ok=True)
        room_file.write_text(fresh_text(text, today), encoding="utf-8")
    except OSError as fault:
        raise CommandFault(f"cannot put the demo into {room_file.parent}: {fault.strerror}") from None
    write_past(load_room(room_file), ledger_place(replace(options, room_file=room_file)), today, lived=True)
