"""Small entries for tests, and strategies that make any entry at all."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from typing import Any, get_args

from hypothesis import strategies as st

from schedules.ledger import (
    Acknowledged,
    Came,
    ChoreMark,
    Ledger,
    Noted,
    Observed,
    PostedServing,
    Posting,
    Reason,
    Served,
    Sighting,
    Skipped,
    Undone,
    What,
)
from schedules.ledger.entries.animals.census import Census
from schedules.ledger.reason import Value
from schedules.room.heads import CLASSES
from schedules.room.kinds import Method, Severity, Stage

DAY = date(2026, 11, 25)
MORNING = datetime(2026, 11, 25, 7, tzinfo=UTC)


def served(tank: str = "a1", feed: str = "moss", round_id: str = "morning", **other: Any) -> Served:
    values: dict[str, Any] = {"amount": 0.5, "unit": "spoon", "amount_mg": 60.0, "part": 0.3, "planned": True}
    return Served(tank, feed, round_id, **(values | other))


def due(tank: str = "a1", feed: str = "moss", **other: Any) -> PostedServing:
    values: dict[str, Any] = {
        "round": "morning",
        "part": 0.3,
        "amount": 0.5,
        "unit": "spoon",
        "amount_mg": 60.0,
        "method": "premixed",
    }
    return PostedServing(tank, feed, **(values | other))


def seen(tank: str = "a1", feed: str | None = None, flag: str = "over_ration", **other: Any) -> Acknowledged:
    values: dict[str, Any] = {"severity": "medium", "extent": 1.25}
    return Acknowledged(tank, feed, flag, **(values | other))


def write(ledger: Ledger, *what: What, day: date = DAY, at: datetime = MORNING, by: str | None = "Ana") -> int:
    """Append one act; its number."""
    return ledger.append(what, day=day, at=at, by=by)[0].act


def fill(ledger: Ledger, acts: int, day: date = DAY) -> None:
    """Some acts of every kind, each about another tank."""
    write(ledger, Posting(day, ((due("t0"), due("t1")), (due("t1"),))), day=day, by=None)
    for number in range(acts):
        tank, at = f"t{number}", MORNING + timedelta(minutes=number)
        made = write(ledger, served(tank), served(tank, "leaf"), day=day, at=at)
        if number % 5 == 1:
            write(ledger, Noted(tank, "berried " * 20), day=day, at=at)
        if number % 6 == 3:
            write(ledger, seen(tank, extent=1 / 3), day=day, at=at)
        if number % 7 == 2:
            ledger.append([Undone(made)], day=day, at=at, by="Ben")


def with_beside(path: Path) -> dict[str, bytes]:
    """The bytes of a ledger file and of what stands beside it, by the end of the name."""
    found = {tail: Path(f"{path}{tail}") for tail in ("", "-wal", "-last")}
    return {tail: file.read_bytes() for tail, file in found.items() if file.exists()}


def put_back(path: Path, files: dict[str, bytes]) -> None:
    """Those bytes again, and nothing else beside them."""
    for tail in ("", "-wal", "-shm", "-last", "-wal.damaged", "-last.damaged"):
        Path(f"{path}{tail}").unlink(missing_ok=True)
    for tail, data in files.items():
        Path(f"{path}{tail}").write_bytes(data)


def _pairs(values: dict[str, Value]) -> tuple[tuple[str, Value], ...]:
    return tuple(values.items())


TEXTS = st.text(st.characters(exclude_categories=["Cs"]), max_size=12)
NAMES = st.sampled_from(("a1", "b2", "ö-3", "Robert'); DROP TABLE entries;--", ""))
FEEDS = st.sampled_from(("moss", "leaf", "=1+1"))
NUMBERS = st.floats(0, 1e6)
ROUNDS = st.sampled_from(("morning", "evening"))
DAYS = st.dates(DAY - timedelta(days=5), DAY + timedelta(days=5))
SERVED = st.builds(
    Served, NAMES, FEEDS, ROUNDS, NUMBERS, TEXTS, NUMBERS, NUMBERS, st.booleans(), st.sampled_from((None, "min_gap"))
)
CODES = st.from_regex(r"[a-z][a-z0-9_]{0,5}", fullmatch=True)
VALUES = st.none() | st.booleans() | st.integers(-9, 9) | NUMBERS | TEXTS
REASONS = TEXTS.map(Reason.other) | st.builds(
    Reason, CODES, st.dictionaries(CODES.filter(lambda name: name != "code"), VALUES, max_size=3).map(_pairs)
)
SKIPPED = st.builds(Skipped, NAMES, FEEDS, ROUNDS, REASONS)
CAME = st.builds(Came, NAMES, FEEDS, st.sampled_from(("fast", "slowly", "nobody")))
OBSERVED = st.builds(Observed, NAMES, FEEDS, st.sampled_from(("none", "some", "most")))
IDS = st.sampled_from(("a1", "b2", "left"))
CHORES = st.builds(
    lambda chore, at, because: ChoreMark(chore, at[0], at[1], because),
    st.sampled_from(("wipe", "moss")),
    st.tuples(IDS, st.none()) | st.tuples(st.none(), st.none() | IDS),
    st.none() | REASONS,
)
NOTED = st.builds(Noted, st.none() | NAMES, TEXTS)
ACKNOWLEDGED = st.builds(
    Acknowledged, NAMES, st.none() | FEEDS, TEXTS.filter(bool), st.sampled_from(get_args(Severity)), NUMBERS
)
DUE = st.builds(
    PostedServing, NAMES, FEEDS, ROUNDS, NUMBERS, NUMBERS, TEXTS, NUMBERS, st.sampled_from(get_args(Method))
)
POSTINGS = st.builds(Posting, DAYS, st.lists(st.lists(DUE, max_size=5).map(tuple), max_size=4).map(tuple))
SIGHTINGS = st.builds(
    Sighting,
    NAMES.filter(bool),
    st.sampled_from(("hatch", "count", "dead", "berried", "added")),
    st.sampled_from(get_args(Stage)),
    st.sampled_from(tuple(CLASSES)),
    st.booleans(),
    source=st.none() | TEXTS.filter(bool),
    line=st.none() | TEXTS.filter(bool),
)
CENSUSES = st.builds(Census, st.integers(0, 99), TEXTS, TEXTS)
ENTRIES = SIGHTINGS | SERVED | SKIPPED | OBSERVED | CAME | NOTED | ACKNOWLEDGED | CHORES
