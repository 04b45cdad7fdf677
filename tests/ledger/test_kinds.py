"""A kind is declared once: everything that handles entries handles every kind, also one that was made up here."""

from __future__ import annotations

import json
from contextlib import closing
from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path

import pytest

from demo_racks import room_path
from schedules.ledger import (
    AlreadyMarked,
    Away,
    Back,
    Came,
    ChoreMark,
    Delivered,
    Entry,
    Ledger,
    LedgerFault,
    Noted,
    Observed,
    Opened,
    Posting,
    Reading,
    Reason,
    SaltAdded,
    Sighting,
    Skipped,
    Undone,
    WaterAdded,
    WaterChanged,
    Weighed,
    What,
    declaration,
)
from schedules.ledger.copies.exporting import export_lines
from schedules.ledger.copies.importing import import_lines
from schedules.ledger.copies.repair import repair
from schedules.ledger.copies.verify import verify
from schedules.ledger.declaration import EntryKind, declare, kind_of, kinds
from schedules.ledger.documentation import format_lines
from schedules.ledger.entries.animals.census import Census
from schedules.ledger.lines import draft_of, line_of, record_from
from schedules.ledger.standing import standing
from schedules.ledger.stores.opening import open_at
from schedules.ledger.stores.sqlite import open_ledger
from schedules.ledger.stores.sqlite.schema import VERSION, objects
from schedules.room.place import Place
from schedules.room_file import load_room
from schedules.wording.entries import RoomNames, marked_text
from tests.ledger.builders import DAY, MORNING, due, seen, served, write
from tests.ledger.made_up import RINSED, Rinsed

ROOM = load_room(room_path("first_rack"))
RINSE = Rinsed("left", 3.5, False)


@pytest.fixture
def made_up(monkeypatch: pytest.MonkeyPatch) -> EntryKind[Rinsed]:
    """The made-up kind, known for one test."""
    monkeypatch.setattr(declaration, "_BY_NAME", dict(declaration._BY_NAME))
    monkeypatch.setattr(declaration, "_BY_TYPE", dict(declaration._BY_TYPE))
    return declare(RINSED)


EXAMPLES: dict[str, What] = {
    "acknowledged": seen("a1", "moss"),
    "away": Away("Ada", Posting(DAY, ((due(),), (), (due("b2"),)))),
    "back": Back(),
    "came": Came("a1", "moss", "nobody"),
    "census": Census(7, "0f3a", "eJyLrgUAAXUA+Q=="),
    "delivered": Delivered("moss", 50.0, "K 7", "2027-03-31"),
    "chore": ChoreMark("wipe", rack="left", because=Reason.other("no time")),
    "noted": Noted("a1", "berried"),
    "observed": Observed("a1", "moss", "some"),
    "opened": Opened("moss", "K 7"),
    "posted": Posting(DAY, ((due(),), (due(), due("b2")))),
    "reading": Reading("a1", "conductivity", 283.5, time="07:40"),
    "salt_added": SaltAdded("a1", "gh-salt", 1.5),
    "served": served(),
    "sighting": Sighting("a1", "moved", "adult", 12, True, to="b2", berried=2),
    "skipped": Skipped("a1", "leaf", "morning", Reason.of("min_gap", days=2)),
    "undone": Undone(1),
    "water_added": WaterAdded("a1", 2.5),
    "weighed": Weighed("moss", 12.5),
    "water_changed": WaterChanged("a1", 6.0, "mixed"),
}


def test_there_is_an_example_of_every_kind() -> None:
    assert set(EXAMPLES) == {kind.name for kind in kinds()}
    assert all(kind_of(what).name == name for name, what in EXAMPLES.items())


@pytest.mark.parametrize("what", EXAMPLES.values(), ids=EXAMPLES)
def test_every_kind_has_a_line_words_a_row_and_a_description(what: What, place: Place) -> None:
    kind = kind_of(what)
    entry = Entry(2, 2, DAY, MORNING, "Ana", what)
    assert record_from(json.loads(line_of(entry))).entry == entry
    assert len(marked_text(ROOM, entry)) > 3
    assert any(f"### `{kind.name}`" in line for line in format_lines())
    with closing(open_at(place)) as ledger:
        write(ledger, Noted("z9", "first"))
        write(ledger, what)
        assert [each.what for each in ledger.everything()][1] == what
    assert verify(place) == []


@pytest.mark.parametrize("what", EXAMPLES.values(), ids=EXAMPLES)
def test_every_earlier_version_of_a_kind_can_be_read(what: What) -> None:
    kind = kind_of(what)
    values = json.loads(line_of(Entry(1, 1, DAY, MORNING, "Ana", what)))
    content = draft_of(what).content
    older = {"share": content.get("part"), "because": "ill", "severity": "middle"}
    for version, earlier in enumerate(kind.earlier, start=1):
        head = {key: value for key, value in values.items() if key not in content} | {"v": version}
        old = {key: older[key] if key in older else content[key] for key in earlier.keys}
        assert type(record_from(head | old).entry.what) is type(what)


@pytest.mark.usefixtures("made_up")
def test_a_made_up_kind_is_written_read_marked_once_and_undone_in_every_store(ledger: Ledger) -> None:
    act = write(ledger, RINSE)
    with pytest.raises(AlreadyMarked, match="Ana"):
        write(ledger, replace(RINSE, litres=1.0), by="Ben")
    write(ledger, replace(RINSE, rack="right"))
    write(ledger, RINSE, day=DAY + timedelta(days=1))
    assert [entry.what for entry in ledger.last_act()] == [RINSE]

    write(ledger, Undone(act))
    again = write(ledger, replace(RINSE, litres=1.0), by="Ben")
    held = [(entry.act, entry.what) for entry in standing(ledger.read(DAY, DAY))]
    assert (again, Rinsed("left", 1.0, False)) in held
    assert act not in dict(held)
    with pytest.raises(AlreadyMarked, match="Ben"):
        write(ledger, RINSE)


@pytest.mark.usefixtures("made_up")
@pytest.mark.parametrize(
    ("wrong", "told"),
    [
        (Rinsed("left", -1.0, False), "rinsed: litres: found -1.0, allowed is a number from 0 to 100"),
        (Rinsed("left", 1e308, False), r"rinsed: litres: found 1e\+308, allowed is a number from 0 to 100"),
        (Rinsed("\ud800", 1.0, False), "rinsed: rack: found .*, allowed is a text without"),
    ],
)
def test_a_made_up_kind_is_admitted_by_its_fields(ledger: Ledger, wrong: Rinsed, told: str) -> None:
    with pytest.raises(LedgerFault, match=told):
        write(ledger, wrong)
    assert ledger.last_seq() == 0


@pytest.mark.usefixtures("made_up")
def test_a_made_up_kind_is_exported_imported_verified_repaired_described_and_put_in_words(tmp_path: Path) -> None:
    path, to, repaired = (tmp_path / name for name in ("a.db", "b.db", "c.db"))
    with closing(open_ledger(path)) as one:
        act = write(one, RINSE, replace(RINSE, rack="right"))
        write(one, Undone(act))
        write(one, RINSE)
        lines = list(export_lines(one))
    assert '"kind":"rinsed","v":2,"rack":"left","litres":3.5,"by_hand":false,' in lines[1]
    import_lines(lines, to)
    assert repair(path, repaired) == []
    for copy in (to, repaired):
        assert verify(copy) == []
        with closing(open_ledger(copy)) as other:
            assert list(export_lines(other)) == lines
    assert "| `litres` | a number from 0 to 100 | L | how much tank water was used |" in list(format_lines())
    entry = Entry(1, 1, date(2026, 11, 25), MORNING, "Ana", RINSE)
    assert RINSED.words(RINSE, entry.day, RoomNames(ROOM)) == "sponge of left rinsed on Wed 25 Nov"


@pytest.mark.usefixtures("made_up")
def test_a_made_up_kind_changes_nothing_of_the_stores_tables() -> None:
    assert not any("rinsed" in statement for statement in objects(VERSION).values())


@pytest.mark.usefixtures("made_up")
def test_a_kind_of_a_newer_program_is_told_of_and_is_no_damage(place: Place) -> None:
    with closing(open_at(place)) as ledger:
        write(ledger, Rinsed("left", 9.0, True))
    del declaration._BY_NAME["rinsed"]
    with (
        pytest.raises(LedgerFault, match=r"a newer Rackround wrote in this ledger.*rinsed"),
        closing(open_at(place)) as ledger,
    ):
        ledger.read(DAY, DAY)
    assert ["written by a newer Rackround" in finding for finding in verify(place)] == [True]


@pytest.mark.usefixtures("made_up")
def test_two_kinds_cannot_have_one_name() -> None:
    with pytest.raises(ValueError, match="rinsed"):
        declare(RINSED)


def test_the_readme_has_the_description_of_every_kind() -> None:
    readme = Path(declaration.__file__).with_name("README.md").read_text("utf-8")
    assert "\n".join(format_lines()) in readme, "write it again: python -m schedules.ledger.documentation"
