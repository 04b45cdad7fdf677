"""Opening the dashboard on a room, or on the invented one."""

from __future__ import annotations

from argparse import Namespace
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path
from tempfile import TemporaryDirectory

from schedules.room_file import load_room, load_room_text
from tui.cli.fault import OK, CommandFault
from tui.cli.session import Options, ledger_path, moment, open_session


def open_dashboard(options: Options, _asked: Namespace) -> int:
    """Open today's round of a room."""
    with open_session(options) as session:
        # Imported here and not above: the other commands run without it.
        from tui.app import RackroundApp
        from tui.desk import Desk

        RackroundApp(Desk(session.room, session.ledger, _clock(options, session.now), session.by)).run()
    return OK


def _clock(options: Options, start: datetime) -> _Clock:
    return _Clock(start - datetime.now(UTC) if options.now is not None else timedelta())


class _Clock:
    """The real clock, or one that was set with --now and goes on from there."""

    def __init__(self, ahead: timedelta) -> None:
        self._ahead = ahead

    def __call__(self) -> datetime:
        return datetime.now(UTC) + self._ahead


def open_demo(options: Options, asked: Namespace) -> int:
    """Open the invented room with its invented past, in a throwaway folder or in one that is kept."""
    if asked.keep is not None:
        return _demo_in(asked.keep, options)
    with TemporaryDirectory(prefix="rackround-demo-") as folder:
        return _demo_in(Path(folder), options)


def _demo_in(folder: Path, options: Options) -> int:
    """Make the demo in a folder unless it is there already, and open it."""
    room_file = folder / "demo.toml"
    if not room_file.exists():
        _make_demo(room_file, options)
    return open_dashboard(replace(options, room_file=room_file), Namespace())


def _make_demo(room_file: Path, options: Options) -> None:
    from demo_racks import room_path
    from demo_racks.fresh import fresh_text
    from demo_racks.past import write_past

    text = room_path("breeding_room").read_text(encoding="utf-8")
    room = load_room_text(text, room_file.name)
    today = room.day(moment(options.now, room))
    try:
        room_file.parent.mkdir(parents=True, exist_ok=True)
        room_file.write_text(fresh_text(text, today), encoding="utf-8")
    except OSError as fault:
        raise CommandFault(f"cannot put the demo into {room_file.parent}: {fault.strerror}") from None
    here = replace(options, room_file=room_file)
    write_past(load_room(room_file), ledger_path(here), today)
