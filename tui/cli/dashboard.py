"""Opening the dashboard on a room, or on the invented one."""

from __future__ import annotations

from argparse import Namespace
from datetime import UTC, datetime, timedelta

from tui.cli.fault import OK
from tui.cli.session import Options, open_session


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
