"""The room file while the program is open: whether it was saved since the last look."""

from __future__ import annotations

from pathlib import Path


class RoomWatch:
    """Looks at a file's time and size; without a file it never changes."""

    def __init__(self, path: Path | None) -> None:
        self.path = path
        self._known = self._stamp()
        self.waits = False
        """Whether a change was noticed and not taken in yet."""

    def changed(self) -> bool:
        """Whether the file is another one than at the last look; a file that is gone or being written is not."""
        stamp = self._stamp()
        if stamp is None or stamp == self._known:
            return False
        self._known, self.waits = stamp, True
        return True

    def _stamp(self) -> tuple[int, int] | None:
        if self.path is None:
            return None
        try:
            state = self.path.stat()
        except OSError:
            return None
        return state.st_mtime_ns, state.st_size
