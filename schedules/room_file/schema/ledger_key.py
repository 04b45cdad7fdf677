"""The room file's `ledger`: where the room's ledger is, where that is not beside the file."""

from __future__ import annotations

from pathlib import Path
from typing import Final

from schedules.room.place import STANDARD_WAYS, is_address, secrets_of

LONGEST: Final = 1000
ALLOWED: Final = 'a path, or the address of a database without its password: "postgresql://USER@HOST/DATABASE"'
WITHOUT_PASSWORD: Final = f"an address without a password; {STANDARD_WAYS}"


def holds_password(found: object) -> bool:
    """Whether a value is an address with a password in it."""
    return isinstance(found, str) and is_address(found) and bool(secrets_of(found))


def named_ledger(room_file: Path) -> str | None:
    """The `ledger` of a room file that need not be sound otherwise; None where it names none."""
    # Imported here and not above: what checks a room file has read it already.
    import tomllib

    try:
        found = tomllib.loads(room_file.read_text("utf-8")).get("ledger")
    except (OSError, ValueError, RecursionError):
        return None
    return found if isinstance(found, str) and found and not holds_password(found) else None
