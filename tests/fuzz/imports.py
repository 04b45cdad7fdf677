"""Mutated exports: each is refused and leaves nothing, or is a ledger that all can use."""

from __future__ import annotations

import json
from collections.abc import Iterator, Sequence
from contextlib import closing
from functools import cache
from pathlib import Path
from random import Random
from tempfile import TemporaryDirectory
from typing import Any, Final

from schedules.ledger import LedgerFault
from schedules.ledger.compact import compact
from schedules.ledger.copies.exporting import export_lines
from schedules.ledger.copies.importing import import_file
from schedules.ledger.copies.verify import verify
from schedules.ledger.lines import FIRST_CHAIN, next_chain
from schedules.ledger.stores.sqlite import open_ledger
from schedules.room_file import load_room_text
from schedules.session.session import Session
from tests.fuzz.trees import mutated
from tests.tui.rooms import Clock, make_session, room_text

ALIKE: Final[dict[type, tuple[Any, ...]]] = {
    float: (0.0, 1e-9, 0.25, 1.0, 7.5, 1000.0, 1e9, 1e15),
    int: (0, 1, 2, 3, 60, 1000, 10**9),
    str: ("a1", "b2", "dust", "flake", "gone", "some", "2026-11-24", "9999-12-31", "\x1b[2J\u202e", "[/]", "x" * 3000),
    bool: (True, False),
}


@cache
def beginning() -> tuple[str, ...]:
    """The lines of a small ledger in which a bit of everything happened."""
    with TemporaryDirectory() as name:
        session = make_session(Path(name))
        with closing(session.ledger) as ledger:
            return tuple(export_lines(ledger))


def exports(seed: int) -> Iterator[list[str]]:
    """Mutated exports without end. In most the chain is made to fit again, so that the contents are looked at."""
    chance = Random(seed)
    while True:
        documents = [json.loads(line) for line in beginning()]
        for _ in range(chance.randint(1, 3)):
            _mutate(chance, documents)
        yield _lines(documents, fit=chance.random() < 0.9)


def _mutate(chance: Random, documents: list[Any]) -> None:
    at = chance.randrange(len(documents))
    match chance.randrange(10):
        case 0:
            del documents[at]
        case 1:
            documents.insert(chance.randrange(len(documents) + 1), documents[at])
        case 2 | 3 | 4:
            documents[at] = mutated(chance, documents[at])
        case _:
            _alike(chance, documents[at])


def _alike(chance: Random, document: Any) -> None:
    """Another value of the same type under one key: often legal, seldom usual."""
    keys = [key for key, value in document.items() if type(value) in ALIKE] if isinstance(document, dict) else []
    if keys:
        key = chance.choice(keys)
        document[key] = chance.choice(ALIKE[type(document[key])])


def _lines(documents: Sequence[Any], *, fit: bool) -> list[str]:
    chain, lines = FIRST_CHAIN, []
    for number, document in enumerate(documents):
        if fit and number == 0 and isinstance(document, dict) and type(document.get("entries")) is int:
            document = document | {"entries": len(documents) - 1}
        if fit and number > 0 and isinstance(document, dict):
            document = {key: value for key, value in document.items() if key != "chain"}
            line = _written(document)
            chain = next_chain(chain, line)
            document = document | {"chain": chain.hex()}
        lines.append(_written(document))
    return lines


def _written(document: Any) -> str:
    try:
        return compact(document)
    except ValueError:  # numbers that JSON does not know
        return json.dumps(document, separators=(",", ":"))


def is_taken(lines: Sequence[str]) -> bool:
    """Whether an import takes these lines."""
    with TemporaryDirectory() as name:
        return _import(Path(name), lines) is None


def _import(folder: Path, lines: Sequence[str]) -> str | None:
    """The refusal, None where the lines were taken."""
    source = folder / "export.jsonl"
    source.write_text("".join(f"{line}\n" for line in lines), encoding="utf-8")
    try:
        import_file(source, folder / "room.ledger.db")
    except LedgerFault as fault:
        return str(fault)
    return None


def fault_of(lines: Sequence[str]) -> str | None:
    """What is wrong with how an export is taken."""
    with TemporaryDirectory() as name:
        folder = Path(name)
        refusal = _import(folder, lines)
        left = sorted(path.name for path in folder.iterdir() if path.name != "export.jsonl")
        if refusal is not None:
            return f"a refused import left {left}" if left else None
        if found := verify(folder / "room.ledger.db"):
            return f"taken, and then unsound: {found[0]}"
        return _used(folder, lines)


def _used(folder: Path, lines: Sequence[str]) -> str | None:
    """Walk the round on what was imported, as the screens and commands do; whatever this raises is a fault."""
    with closing(open_ledger(folder / "room.ledger.db", create=False)) as ledger:
        if list(export_lines(ledger)) != list(lines):
            return "taken, and exported otherwise"
        try:
            session = Session(load_room_text(room_text(), "room.toml"), ledger, Clock(), "Mara")
            stops = session.sheet.stops
            session.flags()
            session.missed(session.day)
            if stops:
                session.finish(stops[0])
            session.undo()
        except LedgerFault:
            return None  # said in words
    return None
