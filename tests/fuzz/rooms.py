"""Mutated room files: each is a room, or a list of faults that can be read."""

from __future__ import annotations

import random
import re
from collections.abc import Callable, Iterator
from datetime import date, timedelta
from typing import Final

from demo_racks import room_path
from schedules.room.days_off import is_day_off
from schedules.room_file import RoomFileFaults, load_room_text
from schedules.room_file.odd import oddities
from tests.room_file.rooms import FIRST_ROOM

TODAY: Final = date(2026, 11, 25)
LARGE: Final = 3000
VALUES: Final = (
    "nan",
    "-inf",
    "0",
    "-1",
    "1e308",
    "5e-324",
    "true",
    "[]",
    "{}",
    "[[1]]",
    "2026-02-29",
    "0001-01-01",
    "9999-12-31",
    "07:00:00",
    "24:00",
    "20.11.2026",
    "11/20/2026",
    "54L",
    "0,5",
    "1979-05-27T07:32:00Z",
    "0xFF",
    "Adult",
    "none",
    "'''",
    '"""',
    "#",
    '""',
    '"none"',
    '"30"',
    '"a\\u0000b"',
    '"\u202e"',
    "\xa054",
    "9" * 400,
    "9" * 5000,
    '"' + "x" * 5000 + '"',
)
KEYS: Final = (
    "max_gap",
    "min_gap",
    "per_week",
    "share",
    "most",
    "count",
    "berried",
    "from",
    "to",
    "volume",
    "ration_mg",
    "measure",
    "label",
    "stages",
    "feeds",
    "animals",
    "clocks",
    "overrides",
    "water",
    "appetite",
    "tools",
    "bands",
    "tds_factor",
    "keepers",
    "off_rules",
    "off_from",
    "days_off",
    "quarantine_days",
    "quarantine",
    "ends",
    "line",
    "generation",
    "length",
    "hatched",
)
RULES: Final = (
    "FREQ=YEARLY;BYMONTH=2;BYMONTHDAY=30",
    "FREQ=DAILY;INTERVAL=7;BYDAY=MO",
    "FREQ=WEEKLY",
    "FREQ=X",
    "UNTIL=9",
)


Mutation = Callable[[random.Random, str], str]


def letter(chance: random.Random, text: str) -> str:
    """One character changed, taken away or put in."""
    place = chance.randrange(len(text) + 1)
    sign = chance.choice(["", "\x00", "\u00a0", "\n", '"', "'", "[", "]", "{", "}", "=", ".", ",", "#", "ü", "9", "\\"])
    return text[:place] + sign + text[place + chance.randrange(2) :]


def value(chance: random.Random, text: str) -> str:
    """The value of one key put in place by an unusual one."""
    found = list(re.finditer(r"(?<== )[^,}\]\n]+", text))
    if not found:
        return text
    one = chance.choice(found)
    return text[: one.start()] + chance.choice(VALUES) + text[one.end() :]


def lines(chance: random.Random, text: str) -> str:
    """Lines dropped, doubled, moved or cut."""
    all_ = text.splitlines(keepends=True) or [""]
    at = chance.randrange(len(all_))
    match chance.randrange(4):
        case 0:
            del all_[at]
        case 1:
            all_[at] *= 2
        case 2:
            all_.insert(chance.randrange(len(all_)), all_[at])
        case _:
            all_[at] = all_[at][: chance.randrange(len(all_[at]) + 1)]
    return "".join(all_)


def key(chance: random.Random, text: str) -> str:
    """A known key with an unusual value put in somewhere."""
    all_ = text.splitlines(keepends=True)
    line = f"{chance.choice(KEYS)} = {chance.choice(VALUES)}\n"
    all_.insert(chance.randrange(len(all_) + 1), line)
    return "".join(all_)


def rules(chance: random.Random, text: str) -> str:
    """Keepers with rules, some of which never come."""
    some = ", ".join(f'"{chance.choice(RULES)}"' for _ in range(chance.randrange(1, 40)))
    return f"{text}\n[[keepers]]\nname = 'K{chance.random()}'\noff_from = 2026-01-01\noff_rules = [{some}]\n"


def many(chance: random.Random, text: str) -> str:
    """Something small written thousands of times."""
    number = chance.randrange(2, LARGE)
    piece = chance.choice(
        ["a.", "[", "{a=", "[[feeds]]\n", "x = oops\n", "a.b.c.d = 1\n", '"', "'''", "\\", "[a]\n", "1,"]
    )
    at = chance.randrange(len(text) + 1)
    return text[:at] + piece * number + text[at:]


def tables(chance: random.Random, text: str) -> str:
    """Feeds or tanks by the hundred, each with an id of its own."""
    header = chance.choice(
        ['[[feeds]]\nkind = "powder"\n', "[[racks.tanks]]\nvolume = 9\n", "[[rounds]]\nat = 08:00:00\n"]
    )
    return text + "".join(f'{header}id = "n{number}"\n' for number in range(chance.randrange(1, 600)))


USUAL: Final[tuple[Mutation, ...]] = (letter, letter, value, value, value, lines, key)
RARE: Final[tuple[Mutation, ...]] = (rules, many, tables)


def documents(seed: int) -> Iterator[str]:
    """Mutated documents without end."""
    chance = random.Random(seed)
    begin = [FIRST_ROOM, room_path("first_rack").read_text(encoding="utf-8")]
    while True:
        text = chance.choice(begin)
        for _ in range(chance.randrange(1, 6)):
            text = chance.choice(RARE if chance.random() < 0.1 else USUAL)(chance, text)
        yield text


def fault_of(text: str) -> str | None:
    """What is wrong with how a document is read, None where it is a room or refused as it should be."""
    try:
        room = load_room_text(text, "room.toml")
        list(oddities(room, TODAY))
        any(is_day_off(room, TODAY + timedelta(days=number)) for number in range(28))
    except RoomFileFaults as faults:
        if not faults.faults or not all(line.isprintable() for line in faults.lines()):
            return "faults that cannot be read"
    return None


def is_room(text: str) -> bool:
    """Whether a document is a room."""
    try:
        load_room_text(text, "room.toml")
    except RoomFileFaults:
        return False
    return True
