"""Numbers, days and times as the keeper reads them. Plain text only."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, datetime, tzinfo
from typing import Final

from schedules.room.clocks import OWN_CLOCK
from schedules.room.kinds import Method

WEEKDAYS: Final = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
MONTHS: Final = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")
METHOD_TEXT: Final[dict[Method, str]] = {
    "surface": "on the surface",
    "premixed": "premixed in tank water",
    "flow": "into the flow, in two goes",
    "placed": "placed",
}
_PARTS: Final = {0.25: "¼", 0.5: "½", 0.75: "¾", 0.333333: "⅓", 0.666667: "⅔"}


def number_text(value: float) -> str:
    """A number with at most two decimals and no trailing zeros; a smaller one with one figure, never as nothing."""
    if 0 < abs(value) < 0.005:
        return f"{value:.1g}"
    return f"{value:.2f}".rstrip("0").rstrip(".") or "0"


def measures_text(value: float) -> str:
    """A number of measures, quarters as fractions: 1½, ¼, 3."""
    whole = int(value)
    part = _PARTS.get(round(value - whole, 6))
    if part is None:
        return number_text(value)
    return f"{whole}{part}" if whole else part


def measurable(value: float) -> bool:
    """Whether a number of measures can be read off a spoon or broken by hand: wholes, quarters, thirds."""
    return any(abs(value * parts - round(value * parts)) < 1e-6 for parts in (4, 3)) and value > 0


def amount_text(amount: float, unit: str) -> str:
    """An amount in the keeper's own measure: ½ spoon, 2 pellets."""
    plural = amount > 1 and not unit.endswith("s")
    return f"{measures_text(amount)} {unit}{'s' if plural else ''}"


def mg_text(mg: float) -> str:
    """A mass in mg, two figures below 10 mg, or in g from one gram on."""
    if mg >= 1000:
        return f"{mg / 1000:.2f} g"
    return f"{mg:.0f} mg" if mg >= 9.95 or mg == 0 else f"{mg:.2g} mg"


def grams_text(grams: float) -> str:
    """A mass on the shelf: in mg below a tenth of a gram, one decimal below 100 g, in kg from one kilogram on."""
    if grams >= 1000:
        return f"{grams / 1000:.2f} kg"
    if 0 < grams < 0.095:
        return mg_text(grams * 1000)
    return f"{grams:.0f} g" if grams >= 99.95 else f"{grams:.1f}".removesuffix(".0") + " g"


def days_word(days: int) -> str:
    """A number of days in words."""
    return "1 day" if days == 1 else f"{days} days"


def counted(number: int, word: str) -> str:
    """A number of things, each called by a word whose plural ends in s: 1 tank, 3 tanks."""
    return f"{number} {word}" if number == 1 else f"{number} {word}s"


def date_text(day: date) -> str:
    """A date with its weekday: Wed 25 Nov."""
    return f"{WEEKDAYS[day.weekday()]} {day.day} {MONTHS[day.month - 1]}"


def day_text(day: date, today: date) -> str:
    """A day as seen from another: today, yesterday, tomorrow, else its date."""
    near = {0: "today", -1: "yesterday", 1: "tomorrow"}.get((day - today).days)
    if near is not None:
        return near
    return date_text(day) if abs((day - today).days) < 300 else day.isoformat()


def clock_text(at: datetime, zone: tzinfo) -> str:
    """An instant as a wall-clock time in the room: 07:12."""
    return f"{at.astimezone(zone):%H:%M}"


def minutes_text(minutes: float) -> str:
    """A length of handling time in whole minutes, at least one where there is anything to do."""
    return f"{max(1, round(minutes))} min" if minutes > 0 else "0 min"


def method_text(method: Method, *, mixed: bool = False) -> str:
    """How a feed is given, as the stop says it; solid feed that goes into a mix is poured where it would be placed."""
    return "poured at the feeding spot" if mixed and method == "placed" else METHOD_TEXT[method]


def clean(text: str) -> str:
    """A text typed by the keeper on one line: control characters become spaces, ends are trimmed."""
    return " ".join("".join(each if each.isprintable() else " " for each in text).split())


NEEDS: Final[Mapping[str, str]] = {
    "first_fine": "fine feed after the hatch",
    "fine": "fine feed",
    "film": "biofilm feed",
    "powder": "powder",
    "fan": "food for fan feeders",
    "ground": "food on the ground",
    "staple": "a staple",
    "protein": "protein",
    "greens": "greens",
    "mineral": "minerals",
}
"""The default clocks; another belongs to a single feed."""


def need_name(clock: str, names: Mapping[str, str]) -> str:
    """What a clock asks for; the clock of a single feed is called as that feed is in `names`."""
    feed = clock.removeprefix(OWN_CLOCK)
    return NEEDS.get(clock) or names.get(feed, feed)
