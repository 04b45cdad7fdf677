"""An invented room made fresh: every date in its file moved so that the day it was written for is today."""

from __future__ import annotations

import re
from datetime import date, timedelta
from typing import Final

_DATE: Final = re.compile(r"\b\d{4}-\d{2}-\d{2}\b")
_AS_OF: Final = re.compile(r"^# As of (\d{4}-\d{2}-\d{2})", re.MULTILINE)


def fresh_text(text: str, today: date) -> str:
    """A demo room's file with its dates moved by as many days as lie between its "As of" day and today."""
    written = _AS_OF.search(text)
    if written is None:
        raise ValueError('a demo room says in a comment "# As of YYYY-MM-DD" which day it was written for')
    moved = today - date.fromisoformat(written[1])
    return _DATE.sub(lambda found: _moved(found[0], moved), text)


def _moved(found: str, by: timedelta) -> str:
    try:
        return (date.fromisoformat(found) + by).isoformat()
    except ValueError:
        return found
