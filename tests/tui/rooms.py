"""A small invented room with a past in which a bit of everything happened, at ten past seven on a morning."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date, datetime, timedelta
from pathlib import Path
from typing import Final
from zoneinfo import ZoneInfo

from schedules.leave import LeavePlan, leave_plan
from schedules.ledger import Ledger, Noted, Observed, PostedServing, Posting, Reason, Served, Sighting, Skipped, What
from schedules.ledger.stores.sqlite import open_ledger
from schedules.room import Room
from schedules.room_file import load_room_text
from schedules.session.session import Session

TODAY: Final = date(2026, 11, 25)
ZONE: Final = ZoneInfo("Europe/Vienna")
NOW: Final = datetime(2026, 11, 25, 7, 10, tzinfo=ZONE)
TEXT: Final = """\
name = "Cellar by the stairs"
time_zone = "Europe/Vienna"

[[keepers]]
name = "Mara"

[[keepers]]
name = "Ben"

[[rounds]]
id = "morning"
at = 07:00:00

[[rounds]]
id = "evening"
at = 19:00:00

[clocks.fine]
max_gap = 3

[[feeds]]
id = "dust"
name = "Nettle dust"
kind = "powder"
measure = { name = "scoop", mg = 60, step = 0.25 }

[[feeds]]
id = "flake"
name = "Plain pellets"
kind = "staple"
min_gap = 2

[[feeds]]
id = "bug"
name = "Insect wafers"
kind = "protein"

[[feeds]]
id = "leaf"
name = "Walnut leaf"
kind = "greens"
round = "evening"

[[racks]]
id = "wall"
name = "Wall rack"
"""
HELPER: Final = "Aunt Ida"
CHORES: Final = """\
[[chores]]
template = "wipe_front"
from = 2026-11-23
within = 3

[[chores]]
template = "top_off"
tanks = ["a1", "b2"]
from = 2026-11-20

[[chores]]
template = "trim_moss"
tanks = ["b1", "b2"]
from = 2026-10-14
within = 1

[[chores]]
template = "swap_tools"
from = 2026-11-25

[[chores]]
template = "calibrate_meters"
from = 2026-11-25
within = 1
best_before = 2026-11-20

[[chores]]
id = "dust_racks"
name = "Dust the lamps"
each = "rack"
rule = "FREQ=MONTHLY;BYDAY=4WE"
from = 2026-11-01
walk = "after"
"""
"""Chores of every sort for `room_text(also=CHORES)`: of tanks, a rack, the room; due, late, with slack."""
TANKS: Final = (
    ("a1", "Moss corner"),
    ("a2", "Long slate"),
    ("a3", "Fern and root"),
    ("b1", "Amber, line two"),
    ("b2", "Pale ones"),
    ("q1", "Newcomers"),
)


def room_text(names: dict[str, str] | None = None, also: str = "") -> str:
    """The room file's text, with other names for some of the tanks."""
    named = {**dict(TANKS), **(names or {})}
    parts = [TEXT, also]
    for tank, name in named.items():
        parts += [
            "[[racks.tanks]]",
            f'id = "{tank}"',
            f"name = {quoted(name)}",
            'place = "shelf 1"',
            "volume = 40",
            'rest = "friday"' if tank == "a2" else "",
            "quarantine = true" if tank == "q1" else "",
            'line = "Amber"\ngeneration = 2' if tank == "b1" else "",
            'animals = [{ stage = "adult", count = 40, berried = 3 }, { stage = "shrimplet", count = 60 }]',
        ]
    return "\n".join(parts)


def quoted(text: str) -> str:
    """A text as TOML writes it."""
    escaped = "".join(
        f"\\U{ord(each):08X}" if each in '"\\' or ord(each) < 32 or ord(each) == 127 else each for each in text
    )
    return f'"{escaped}"'


def due(room: Room, tank: str, feed: str) -> PostedServing:
    """A serving of an everyday amount."""
    stock = room.feeds[feed]
    amount = {"dust": 0.5, "flake": 2.0, "bug": 1.0, "leaf": 1.0}[feed]
    return PostedServing(
        tank, feed, stock.round, 0.3, amount, stock.measure.name, amount * stock.measure.mg, stock.rules.method
    )


def served(room: Room, tank: str, feed: str, broke: str | None = None) -> Served:
    """Such a serving given."""
    what = due(room, tank, feed)
    return Served(tank, feed, what.round, what.amount, what.unit, what.amount_mg, what.part, broke is None, broke)


def day(back: int) -> date:
    """So many days ago."""
    return TODAY - timedelta(days=back)


def write_past(room: Room, ledger: Ledger) -> None:
    """Eight days and this morning.

    Four days ago nothing was marked; two days ago a2 was missed, a3 got its dust twice, and most of the pellets were
    left in a1; b1 got pellets yesterday and has to wait; this morning q1 was fed already, and Mara wrote a note.
    Ben saw a hatch in b1 weeks ago and counted it, berried females in b2, and one dead in b1.
    """

    def write(what: What | list[What], back: int, minute: int = 5, by: str | None = "Mara") -> None:
        at = datetime(2026, 11, 25, 7, minute, tzinfo=ZONE) - timedelta(days=back)
        ledger.append(what if isinstance(what, list) else [what], day=day(back), at=at, by=by)

    dusted = tuple(due(room, tank, "dust") for tank in ("a1", "a2", "a3", "b2"))
    past = tuple(dusted if back % 2 == 0 else () for back in range(8, 0, -1))
    write(Posting(day(8), past), 8, 0, None)
    for back in (8, 6, 2):
        for tank in ("a1", "a2", "a3", "b2"):
            if (tank, back) != ("a2", 2):
                write(served(room, tank, "dust"), back, by="Ben")
    write(served(room, "a3", "dust", "again"), 2, 9, "Ben")
    write(served(room, "a1", "flake"), 5)
    write(Observed("a1", "flake", "most"), 5, 30)
    write(served(room, "b1", "flake"), 1)
    write(Skipped("b2", "bug", "morning", Reason.other("water cloudy")), 6, 12)
    write(Sighting("b1", "hatch", "shrimplet", 30, False), 46, by="Ben")
    write(Sighting("b1", "count", "shrimplet", 84, True), 8, 20, "Ben")
    write(Sighting("b2", "berried", "adult", 2, True), 9, by="Ben")
    write(Sighting("b1", "dead", "adult", 1, True), 1, 20, "Ben")
    today = tuple(
        due(room, tank, feed)
        for tank, feed in (
            ("a1", "dust"),
            ("a1", "bug"),
            ("a2", "dust"),
            ("a3", "bug"),
            ("a3", "leaf"),
            ("b1", "flake"),
            ("b2", "dust"),
            ("q1", "flake"),
        )
    )
    coming = tuple(today if number % 2 == 0 else () for number in range(28))
    write(Posting(TODAY, coming), 0, 0, None)
    write(served(room, "q1", "flake"), 0, 2, "Ben")
    write(Noted("a2", "three berried, eggs with eyes"), 0, 4)


@dataclass
class Clock:
    """A clock that stands still until it is set."""

    now: datetime = field(default=NOW)

    def __call__(self) -> datetime:
        return self.now


def make_session(folder: Path, text: str | None = None, by: str = "Mara") -> Session:
    """The room and its past in a folder, and a session on it."""
    room = load_room_text(text or room_text(), "room.toml")
    ledger = open_ledger(folder / "room.ledger.db")
    write_past(room, ledger)
    return Session(room, ledger, Clock(), by)


def back_from_leave(folder: Path) -> tuple[Session, LeavePlan]:
    """A session on the morning after five days away."""
    away = make_session(folder)
    first = TODAY + timedelta(days=1)
    plan = leave_plan(away.room, away.history, TODAY, first, first + timedelta(days=4))
    assert away.accept_leave(HELPER, plan).done
    return Session(away.room, away.ledger, Clock(NOW + timedelta(days=6)), "Mara"), plan


def second_session(session: Session, folder: Path, by: str = "Ben") -> Session:
    """Another program on the same ledger, at the same moment."""
    return Session(session.room, open_ledger(folder / "room.ledger.db"), Clock(), by)
