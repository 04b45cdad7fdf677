"""Recurrence rules of whole days (RFC 5545): which days a rule names, and what is wrong with one that cannot be used.

Rules are about whole days: their DTSTART is a DATE, so UNTIL must be one too (RFC 5545, 3.3.10), and the parts about
hours have no place.
"""

from __future__ import annotations

from datetime import date, datetime, time
from functools import lru_cache
from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    from dateutil.rrule import rrule

_PARTS: Final[dict[str, frozenset[str]]] = {
    "DAILY": frozenset(("BYDAY", "BYMONTH")),
    "WEEKLY": frozenset(("BYDAY", "BYMONTH")),
    "MONTHLY": frozenset(("BYDAY", "BYMONTH", "BYMONTHDAY", "BYSETPOS")),
    "YEARLY": frozenset(("BYDAY", "BYMONTH", "BYMONTHDAY", "BYSETPOS", "BYWEEKNO", "BYYEARDAY")),
}
"""Which parts a rule of each frequency may have besides FREQ, INTERVAL, COUNT, UNTIL and WKST.

Narrower than the standard where a rule could search thousands of years for a day that never comes.
"""
_EXAMPLE: Final = 'a recurrence rule of whole days, as in "FREQ=WEEKLY;INTERVAL=2;BYDAY=SA"'
_MOST: Final = {"BYMONTH": 12, "BYMONTHDAY": 31, "BYSETPOS": 366, "BYWEEKNO": 53, "BYYEARDAY": 366}
"""The largest number in each of the parts that list numbers; those that count from the end are negative."""
_CYCLE: Final = 400
"""Years after which the Gregorian calendar repeats, weekdays included: 146,097 days, which are 20,871 weeks."""
_SHIFT: Final = 19 * _CYCLE
"""Rules are expanded so many years late. The days are the same, and what looks for a day that never comes stops at the
calendar's last year, 9999: after at most four hundred years instead of eight thousand."""
_LAST_YEAR: Final = 9999 - _SHIFT
_COMMON: Final = frozenset(("FREQ", "INTERVAL", "COUNT", "UNTIL", "WKST"))


class RuleFault(ValueError):
    """A recurrence rule that cannot be used: what was found in it, and what is allowed there."""

    def __init__(self, found: str, allowed: str) -> None:
        super().__init__(f"found {found}, allowed is {allowed}")
        self.found = found
        self.allowed = allowed


@lru_cache(maxsize=1024)
def rule_days(rule: str, start: date, year: int) -> frozenset[date]:
    """The days of one calendar year that a recurrence rule counted from `start` names; none after the year 2399."""
    if not start.year <= year <= _LAST_YEAR:
        return frozenset()
    first, last = (datetime.combine(date(year + _SHIFT, *end), time()) for end in ((1, 1), (12, 31)))
    found = _shifted_rule(rule, start).between(first, last, inc=True)
    return frozenset(date(year, each.month, each.day) for each in found)


def check_rule(rule: str, start: date) -> None:
    """Raises `RuleFault` where a text is no recurrence rule of whole days, or names no day from `start` on."""
    _shifted_rule(rule, start)


@lru_cache(maxsize=256)
def _shifted_rule(rule: str, start: date) -> rrule:
    """A recurrence rule of whole days, ready to be expanded, `_SHIFT` years late."""
    from dateutil.rrule import rrule, rrulestr

    parts = _parts(rule)
    _check_parts(parts)
    if "UNTIL" in parts:
        year, rest = int(parts["UNTIL"][:4]), parts["UNTIL"][4:]
        parts["UNTIL"] = f"{year + _SHIFT:04}{rest}" if year <= _LAST_YEAR else "99991231"
    shifted = ";".join(f"{name}={value}" for name, value in parts.items())
    begin = datetime.combine(date(start.year + _SHIFT, start.month, start.day), time())
    try:
        parsed = rrulestr(shifted, dtstart=begin, cache=True)
        never = next(iter(parsed), None) is None
    except (ValueError, KeyError, IndexError, TypeError, AttributeError, OverflowError) as error:
        raise RuleFault(f"a rule that cannot be read ({error})", _EXAMPLE) from error
    if never or not isinstance(parsed, rrule):
        raise RuleFault("a rule that never names a day", "one that does")
    return parsed


def _parts(rule: str) -> dict[str, str]:
    parts: dict[str, str] = {}
    for part in rule.split(";"):
        name, equals, value = part.partition("=")
        if not equals or not value:
            raise RuleFault(f"the part {part[:40]!r}", f"NAME=VALUE for each part, {_EXAMPLE}")
        if name in parts:
            raise RuleFault(f"{name[:40]} twice", "once")
        parts[name] = value
    return parts


def _check_parts(parts: dict[str, str]) -> None:
    frequency = parts.get("FREQ")
    if frequency not in _PARTS:
        found = "no FREQ" if frequency is None else f"FREQ={frequency[:40]}"
        raise RuleFault(found, f"FREQ with one of {', '.join(_PARTS)}")
    allowed = _PARTS[frequency] | _COMMON
    for name in parts:
        if name not in allowed:
            raise RuleFault(f"{name[:40]!r}", f"{', '.join(sorted(allowed))} with FREQ={frequency}")
    for name, text in parts.items():
        _check_number(name, text)
    if "COUNT" in parts and "UNTIL" in parts:
        raise RuleFault("both COUNT and UNTIL", "one of the two")


def _check_number(name: str, text: str) -> None:
    """Parts that hold numbers or a date; the others are left to the parser of rules."""
    if name in ("INTERVAL", "COUNT") and not 1 <= _number(text) <= 9999:
        raise RuleFault(f"{name}={text[:40]}", "a whole number from 1 to 9999")
    if name == "UNTIL" and not _is_date(text):
        raise RuleFault(f"UNTIL={text[:40]}", "a date without dashes and without a time, as in UNTIL=20261224")
    if name in _MOST:
        most, from_end = _MOST[name], name != "BYMONTH"
        sizes = [_number(number.removeprefix("-") if from_end else number) for number in text.split(",")]
        if not all(1 <= size <= most for size in sizes):
            allowed = f"whole numbers from 1 to {most}{f', or -1 to -{most}' if from_end else ''}"
            raise RuleFault(f"{name}={text[:40]}", allowed)


def _is_date(text: str) -> bool:
    """Whether a text is a date of eight digits."""
    try:
        return len(text) == 8 and _number(text) > 0 and bool(date(int(text[:4]), int(text[4:6]), int(text[6:])))
    except ValueError:
        return False


def _number(text: str) -> int:
    """A whole number of at most eight digits, 0 for anything else."""
    return int(text) if text.isascii() and text.isdigit() and len(text) <= 8 else 0
