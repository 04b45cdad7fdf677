"""Acts that wait for the ledger, kept in a file so that they outlast the program.

Each program that is open has a file of its own, and takes over those of programs that ended. A file is bound to one
ledger, lies in the user's own folder, is closed to others, and is gone when nothing waits. Where files cannot be locked
(Windows), nothing is kept.
"""

from __future__ import annotations

import json
import os
import stat
from collections.abc import Iterator, Sequence
from contextlib import suppress
from datetime import date, datetime
from hashlib import sha256
from pathlib import Path
from typing import Any, Final, cast, get_args

from schedules.ledger import Entry, What
from schedules.ledger.compact import compact, instant
from schedules.ledger.lines import line_of, record_from
from schedules.ledger.stores.faults import UNREADABLE
from schedules.ledger.stores.files import whole
from schedules.session.unsaved import Act, ActKind

FORMAT: Final = "rackround-unsaved/1"
_PROGRAMS: Final = 50
"""So many programs of one user on one ledger have a file each."""
_OTHERS: Final = stat.S_IRWXG | stat.S_IRWXO


class KeptActs:
    """The file of this program, and the acts that programs before it left behind."""

    def __init__(self, folder: Path, ledger: str) -> None:
        """`ledger` is the ledger's `identity`. `acts` are what was left behind, oldest first."""
        self._ledger = ledger
        self._lock: int | None = None
        self._path: Path | None = None
        self.acts: tuple[Act, ...] = ()
        with suppress(OSError):
            _make_own(folder)
            self._take_over(folder)

    def _take_over(self, folder: Path) -> None:
        """Make the first free file this program's own, and put into it what other free files hold."""
        name, found = sha256(self._ledger.encode()).hexdigest()[:20], list[Act]()
        locks, taken = list[int](), list[Path]()
        for number in range(_PROGRAMS):
            path = folder / f"unsaved-{name}-{number}.json"
            if self._path is not None and not path.exists():
                continue
            lock = _locked(path.with_suffix(".lock"))
            if lock is None:
                continue
            found += [act for act in self._read(path) if act not in found]
            if self._path is None:
                self._path, self._lock = path, lock
            else:
                locks.append(lock)
                taken.append(path)
        self.acts = tuple(sorted(found, key=lambda act: act.at))
        if self.keep(self.acts):
            for path in taken:
                path.unlink(missing_ok=True)
        for lock in locks:
            os.close(lock)

    def keep(self, acts: Sequence[Act]) -> bool:
        """Keep these acts and no others; whether they are on the disk."""
        if self._path is None:
            return False
        try:
            if not acts:
                self._path.unlink(missing_ok=True)
                return True
            written = compact({"format": FORMAT, "ledger": self._ledger, "acts": [_written(act) for act in acts]})
            with whole(self._path, replace=True) as new:
                new.write_text(written, encoding="ascii")
        except OSError:
            return False
        return True

    def _read(self, path: Path) -> Iterator[Act]:
        with suppress(FileNotFoundError, *UNREADABLE):
            kept = json.loads(path.read_text("ascii"))
            if (kept["format"], kept["ledger"]) == (FORMAT, self._ledger):
                yield from [_act(values) for values in kept["acts"]]

    def close(self) -> None:
        """Leave the file to the next program."""
        if self._lock is not None:
            os.close(self._lock)
        self._lock = self._path = None


def _make_own(folder: Path) -> None:
    """Make the folder where it is missing; OSError where it is somebody else's or open to others."""
    folder.mkdir(mode=0o700, parents=True, exist_ok=True)
    state = folder.lstat()
    if not stat.S_ISDIR(state.st_mode) or state.st_uid != os.getuid() or state.st_mode & _OTHERS:
        raise PermissionError(folder)


def _locked(path: Path) -> int | None:
    """A lock that ends with the program; None where another program has it, or nothing can be locked here."""
    try:
        # Imported here and not above: Windows has none.
        import fcntl
    except ImportError:
        return None
    handle = os.open(path, os.O_CREAT | os.O_RDWR | os.O_NOFOLLOW | os.O_CLOEXEC, 0o600)
    try:
        fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except OSError:
        os.close(handle)
        return None
    return handle


def _written(act: Act) -> dict[str, Any]:
    return {
        "kind": act.kind,
        "day": act.day.isoformat(),
        "at": instant(act.at),
        "by": act.by,
        "since": act.since,
        "what": [line_of(_as_entry(act, what)) for what in act.what],
        "undone": [line_of(entry) for entry in act.undone],
    }


def _as_entry(act: Act, what: What) -> Entry:
    """What an act says, with a number that means nothing: lines are only of entries."""
    return Entry(1, 1, act.day, act.at, act.by, what)


def _act(values: dict[str, Any]) -> Act:
    kind, since = values["kind"], values["since"]
    if kind not in get_args(ActKind) or not isinstance(since, int | None) or not isinstance(values["by"], str):
        raise ValueError(kind)
    return Act(
        cast(ActKind, kind),
        tuple(entry.what for entry in _entries(values["what"])),
        date.fromisoformat(values["day"]),
        datetime.fromisoformat(values["at"]),
        values["by"],
        _entries(values["undone"]),
        since,
    )


def _entries(lines: list[str]) -> tuple[Entry, ...]:
    return tuple(record_from(json.loads(line)).entry for line in lines)
