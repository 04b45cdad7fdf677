"""What single values may be: the readers behind the scalar types of `schema`, each with the sentence the keeper reads.

A reader gets what the TOML parser made of a value and raises `ValueError` without a text: the sentence that the keeper
sees is the `Allowed` beside it.
"""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass
from datetime import date, datetime, time
from typing import Any, Final, get_args

from pydantic import GetCoreSchemaHandler
from pydantic_core import CoreSchema, PydanticCustomError, core_schema

from schedules.room_file.schema.ledger_key import LONGEST as LONGEST_LEDGER
from schedules.room_file.schema.ledger_key import holds_password

WEEKDAYS: Final = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")
LONGEST_ID: Final = 32
LONGEST_NAME: Final = 200
FIRST_DATE: Final = date(2000, 1, 1)
LAST_DATE: Final = date(2199, 12, 31)
_TURNS_TEXT_AROUND: Final = frozenset("\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069")
"""Invisible characters that reorder what follows them, beyond their own text, on a whole line of the screen."""
_BREAKS_LINE: Final = frozenset("\u2028\u2029")
_TIME: Final = re.compile(r"[0-9]{1,2}:[0-9]{2}(?::[0-9]{2})?")

DayOff = int | tuple[date, date]
"""A weekday (Monday is 0), or a first and a last date, both included."""


@dataclass(frozen=True, slots=True)
class Allowed:
    """What is allowed in a place, in the keeper's words; `choices` are the words a misspelt one is compared with.

    Whatever pydantic finds wrong with the value it annotates becomes one error of type `allowed` that carries both.
    """

    text: str
    choices: tuple[str, ...] = ()

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        """The schema of what this annotates, with every error in it replaced by this one."""
        context = {"allowed": self.text, "choices": list(self.choices)}
        schema = handler(source)
        if self.choices:
            schema = core_schema.no_info_before_validator_function(self._known, schema)
        return core_schema.custom_error_schema(
            schema, "allowed", custom_error_message="not allowed", custom_error_context=context
        )

    def _known(self, found: Any) -> Any:
        """A word as it is known, whichever of its letters are capitals."""
        if not isinstance(found, str) or found in self.choices:
            return found
        folded = found.casefold()
        return next((word for word in self.choices if word.casefold() == folded), found)


def among(words: Any) -> Allowed:
    """One of the words of a `Literal` type."""
    return Allowed(one_of(get_args(words)), get_args(words))


def one_of(words: tuple[str, ...]) -> str:
    """`"a", "b" or "c"`."""
    quoted = [f'"{word}"' for word in words]
    return f"{', '.join(quoted[:-1])} or {quoted[-1]}"


def read_id(found: Any) -> str:
    """A short id: visible characters only, so that it can be typed as one word on a command line."""
    if not isinstance(found, str) or not 1 <= len(found) <= LONGEST_ID:
        raise ValueError
    if found.startswith("-") or " " in found or not found.isprintable():
        raise ValueError
    return found


def read_text(found: Any) -> str:
    """Free text that stays on its own line of a screen, whatever else it holds."""
    if not isinstance(found, str) or not 1 <= len(found) <= LONGEST_NAME or found.isspace():
        raise ValueError
    if found.isascii() and found.isprintable():
        return found
    if any(unicodedata.category(letter) in ("Cc", "Cs") for letter in found):
        raise ValueError
    if not _TURNS_TEXT_AROUND.isdisjoint(found) or not _BREAKS_LINE.isdisjoint(found):
        raise ValueError
    return found


def read_ledger(found: Any) -> str:
    """Where a ledger is. One with a password passes here: `checks` refuses it without showing it."""
    if holds_password(found):
        return str(found)
    if not isinstance(found, str) or not 1 <= len(found) <= LONGEST_LEDGER or not found.isprintable():
        raise ValueError
    return found


def read_some(found: tuple[Any, ...]) -> tuple[Any, ...]:
    """An array with something in it."""
    if not found:
        raise PydanticCustomError("empty", "empty")
    return found


def read_weekday(found: Any) -> int:
    """A weekday by its English name, Monday as 0."""
    if not isinstance(found, str):
        raise ValueError
    return WEEKDAYS.index(found.lower())


def read_time(found: Any) -> time:
    """A TOML local time, or a text HH:MM (TOML 1.0 has no time without seconds)."""
    if isinstance(found, time):
        return found
    if not isinstance(found, str) or not _TIME.fullmatch(found):
        raise ValueError
    return time.fromisoformat(f"0{found}" if found[1] == ":" else found)


def read_day_off(found: Any) -> DayOff:
    """A weekday's name, a date, or a table of a first and a last date at most a year apart."""
    if isinstance(found, str):
        return read_weekday(found)
    if isinstance(found, dict):
        if found.keys() != {"from", "to"}:
            raise ValueError
        first, last = _date(found["from"]), _date(found["to"])
        if not 0 <= (last - first).days <= 366:
            raise ValueError
        return first, last
    day = _date(found)
    return day, day


def _date(found: Any) -> date:
    if isinstance(found, datetime) or not isinstance(found, date) or not FIRST_DATE <= found <= LAST_DATE:
        raise ValueError
    return found
