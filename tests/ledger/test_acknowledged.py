"""A flag that was seen is an entry like every other: one form, refused where it is none, found where it was changed."""

from __future__ import annotations

import json
import math
import sqlite3
from collections.abc import Callable
from contextlib import closing
from pathlib import Path
from typing import Any

import pytest

from schedules.history import history_of
from schedules.ledger import Entry, Ledger, LedgerFault, Undone
from schedules.ledger.copies.exporting import export_lines
from schedules.ledger.copies.importing import import_lines
from schedules.ledger.copies.verify import verify
from schedules.ledger.lines import line_of, record_from
from schedules.ledger.stores.opening import open_at
from schedules.ledger.stores.sqlite import open_ledger
from schedules.room.place import Place
from tests.ledger.builders import DAY, MORNING, seen, served, write


def test_a_line_says_a_seen_flag_in_one_way() -> None:
    """The documented form, to the letter: changing it would break every chain there is."""
    entry = Entry(7, 7, DAY, MORNING, "Ana", seen("a1", None, "over_ration", severity="high", extent=1.5))
    assert line_of(entry) == (
        '{"seq":7,"act":7,"day":"2026-11-25","at":"2026-11-25T07:00:00.000000Z","by":"Ana","kind":"acknowledged","v":2,'
        '"tank":"a1","feed":null,"flag":"over_ration","severity":"high","extent":1.5}'
    )


@pytest.mark.parametrize(
    "change",
    [{"tank": None}, {"feed": 3}, {"flag": None}, {"severity": "dreadful"}, {"severity": 1}, {"extent": "1"}],
)
def test_a_line_of_a_seen_flag_with_other_values_is_no_entry(change: dict[str, object]) -> None:
    values = json.loads(line_of(Entry(1, 1, DAY, MORNING, "Ana", seen())))
    assert record_from(values).entry.what == seen()
    with pytest.raises(ValueError, match=next(iter(change))):
        assert record_from(values | change).entry.seq == 1


@pytest.mark.parametrize(
    ("other", "told"),
    [
        ({"extent": -0.5}, "acknowledged: extent: found -0.5, allowed is a number from 0"),
        ({"extent": math.nan}, "extent: found NaN"),
        ({"extent": math.inf}, "extent: found Infinity"),
        ({"severity": "dreadful"}, 'severity: found "dreadful", allowed is one of high, medium, low'),
        ({"flag": ""}, 'flag: found "", allowed is a text of at least one character'),
        ({"flag": "\ud800"}, "characters that cannot be saved"),
    ],
)
def test_a_seen_flag_that_is_none_is_refused_and_nothing_is_written(
    other: dict[str, Any], told: str, ledger: Ledger
) -> None:
    with pytest.raises(LedgerFault, match=told):
        write(ledger, seen(**other))
    assert ledger.last_seq() == 0


def test_the_same_flag_can_be_seen_by_two_keepers_and_each_is_undone_by_itself(ledger: Ledger) -> None:
    write(ledger, seen(), by="Ana")
    bens = write(ledger, seen(), by="Ben")
    assert [entry.by for entry in history_of(ledger, DAY).about("a1", DAY)] == ["Ana", "Ben"]

    write(ledger, Undone(bens), by="Ben")
    assert [entry.by for entry in history_of(ledger, DAY).about("a1", DAY)] == ["Ana"]


def test_a_seen_flag_is_a_keepers_last_act_and_gives_nothing_to_the_tank(ledger: Ledger) -> None:
    write(ledger, served("a1"))
    write(ledger, seen("a1", "moss", "doubled"))
    assert [entry.what for entry in ledger.last_act("Ana")] == [seen("a1", "moss", "doubled")]
    assert set(ledger.first_served()) == {("a1", "moss")}
    assert history_of(ledger, DAY).part_on("a1", DAY) == 0.3


def test_seen_flags_written_out_and_read_in_again_are_the_same_to_the_letter(
    another_place: Callable[[], Place],
) -> None:
    to = another_place()
    with closing(open_at(another_place())) as one:
        act = write(one, seen("a1", "moss", "doubled", extent=2), seen("b2", extent=1 / 3))
        write(one, Undone(act))
        lines = list(export_lines(one))
    import_lines(lines, to)
    with closing(open_at(to)) as other:
        assert list(export_lines(other)) == lines
    assert verify(to) == []


@pytest.mark.parametrize(
    "change",
    [
        """body = '["a1",null,"over_ration","medium",9.0]'""",
        """body = '["a1",null,"over_ration","high",1.25]'""",
        """body = '["a1",null,"doubled","medium",1.25]'""",
        """body = '["a1",null,"over_ration","medium"]'""",
        "body = ''",
        "feed = 'moss'",
        "tank = 'b2'",
        "day = day + 1",
    ],
)
def test_a_seen_flag_changed_behind_the_programs_back_is_found(change: str, tmp_path: Path) -> None:
    path = tmp_path / "room.ledger.db"
    with closing(open_ledger(path)) as one:
        write(one, seen())
        write(one, served("b2"))
    assert verify(path) == []
    with closing(sqlite3.connect(path)) as connection:
        (trigger,) = connection.execute("SELECT sql FROM sqlite_schema WHERE name = 'no_change'").fetchone()
        connection.execute("DROP TRIGGER no_change")
        connection.execute(f"UPDATE entries SET {change} WHERE seq = 1")
        connection.execute(trigger)
        connection.commit()
    assert len(verify(path)) == 1
