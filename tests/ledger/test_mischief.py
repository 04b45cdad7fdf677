"""Names and notes are words and nothing else: no SQL, no formula, no markup, no path, no way to steer a terminal."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable
from contextlib import closing
from datetime import timedelta
from pathlib import Path

import pytest

from schedules.ledger import AlreadyMarked, LedgerFault, Noted, Reason, Skipped
from schedules.ledger.copies.exporting import export_lines
from schedules.ledger.copies.importing import import_lines
from schedules.ledger.copies.verify import verify
from schedules.ledger.stores.opening import open_at
from schedules.ledger.stores.sqlite import open_ledger
from schedules.room.place import Place, Server
from tests.ledger.builders import DAY, MORNING, served, write
from tests.ledger.places import places

MISCHIEF = [
    "'; DROP TABLE entries; --",
    '") OR 1=1 --',
    "=HYPERLINK(1)",
    "@SUM(1+1)",
    "[bold red]fed[/]",
    "[@click=app.quit]x[/]",
    "../../outside",
    "/etc/hosts",
    "\x1b]0;title\x07\x1b[2J",
    "\x9b2J",
    "a\x00b",
    "two\nlines\r\nand \u2028 more\u0085",
    "\u202efed\u202c",
    "x" * 100_000,
    "${HOME} `id` %n {0}",
]


@pytest.mark.parametrize("text", MISCHIEF, ids=range(len(MISCHIEF)))
def test_any_text_stays_a_text(another_place: Callable[[], Place], text: str) -> None:
    place, to = another_place(), another_place()
    if isinstance(place, Server):
        text = text[:600]  # what a server's indexes hold of any letters
    what = (Noted(text, text), Skipped(text, text, text, Reason.other(text)), served(text, "leaf", text, unit=text))
    with closing(open_at(place)) as ledger:
        ledger.append(what, day=DAY, at=MORNING, by=text)
        with pytest.raises(AlreadyMarked):
            ledger.append([served(text, text, text)], day=DAY, at=MORNING, by="Ben")
        assert [entry.what for entry in ledger.last_act(text)] == list(what)
        assert (text, "leaf") in ledger.last_served(DAY + timedelta(days=1))
        lines = list(export_lines(ledger))
    assert all(line.isascii() and line.isprintable() for line in lines)
    assert verify(place) == []
    import_lines(lines, to)
    assert verify(to) == []
    if isinstance(place, Path):
        beside = sorted(file.name for file in place.parent.iterdir())
        assert beside == ["0.ledger.db", "0.ledger.db-last", "1.ledger.db"]


def test_a_name_without_end_is_refused_by_a_server_and_leaves_nothing() -> None:
    with places("server") as another, closing(open_at(another())) as ledger:
        with pytest.raises(LedgerFault, match="too long for a server"):
            write(ledger, served("x" * 1_000_000))
        assert ledger.last_seq() == 0


@pytest.mark.parametrize(
    "name", ["a?mode=memory.db", "b#c.db", "d%41.db", "e f;.db", "'--.db", ":memory:", "file:x.db", "ü.db", "g&h=i.db"]
)
def test_any_name_of_a_file_is_only_a_name(tmp_path: Path, name: str) -> None:
    path = tmp_path / name
    with closing(open_ledger(path)) as ledger:
        write(ledger, served())
    assert path.stat().st_size > 0
    assert sorted(file.name for file in tmp_path.iterdir()) == sorted([name, f"{name}-last"])


def test_a_ledger_from_a_stranger_cannot_bring_code_along(tmp_path: Path) -> None:
    """Views, triggers and functions in a file are refused before anything of it is used."""
    path = tmp_path / "room.ledger.db"
    open_ledger(path).close()
    with closing(sqlite3.connect(path)) as stranger:
        stranger.execute("CREATE VIEW spy AS SELECT load_extension('evil')")
    with pytest.raises(LedgerFault, match="spy"):
        open_ledger(path)
