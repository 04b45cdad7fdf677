"""Values as text in exactly one way: JSON without spaces, instants in UTC."""

from __future__ import annotations

import json
from datetime import UTC, datetime
from typing import Any


def compact(value: Any) -> str:
    """JSON without spaces in ASCII alone, so that no text in it can end a line or steer a terminal.

    Numbers that are not finite are refused with ValueError.
    """
    return json.dumps(value, allow_nan=False, separators=(",", ":"))


def instant(at: datetime) -> str:
    """An instant in UTC to the microsecond, as `2026-11-25T07:03:12.000000Z`."""
    return at.astimezone(UTC).isoformat(timespec="microseconds").replace("+00:00", "Z")
