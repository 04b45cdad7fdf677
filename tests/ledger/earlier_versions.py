"""Ledger files as programs of earlier schema versions wrote them, made here without the present program's forms."""

from __future__ import annotations

import json
import sqlite3
import zlib
from collections.abc import Iterator
from contextlib import closing
from datetime import date, timedelta
from hashlib import blake2b
from pathlib import Path
from typing import Any

from schedules.ledger.stores.sqlite.connection import connect, lay_out
from tests.ledger.builders import DAY, MORNING

OLD_ACTS = 400
Content = dict[str, Any]


def _json(value: Any) -> str:
    return json.dumps(value, separators=(",", ":"))


def _acts(version: int) -> Iterator[list[tuple[str, Content]]]:
    """Acts of every kind that a version knew: three entries each, or one."""
    last = 0
    for number in range(OLD_ACTS):
        tank = f"t{number}"
        if number % 10 == 4:
            act: list[tuple[str, Content]] = [("undone", {"undoes": last - 2})]
        elif number % 10 == 6:
            act = [("posted", _plan(number))]
        elif number % 10 == 8:
            act = [
                ("observed", {"tank": tank, "feed": "moss", "leftovers": "some"}),
                ("noted", {"tank": None, "text": "clear"}),
                ("skipped", {"tank": tank, "feed": "leaf", "round": "noon", "because": "ill"}),
            ]
        elif number % 10 == 9 and version >= 3:
            seen = {"tank": tank, "feed": None, "flag": "over_ration", "severity": "middle", "extent": 1.25}
            act = [("acknowledged", seen)] * 3
        else:
            act = [("served", _serving(tank, feed)) for feed in ("moss", "leaf", "dust")]
        yield act
        last += len(act)


def _serving(tank: str, feed: str) -> Content:
    amount = {"amount": 0.5, "unit": "spoon", "amount_mg": 60.0, "share": 0.3}
    return {"tank": tank, "feed": feed, "round": "morning", **amount, "planned": True, "broke": None}


def _plan(number: int) -> Content:
    start = (DAY + timedelta(days=number)).isoformat()
    lists = {"tanks": [f"t{number}"], "feeds": ["moss"], "doses": [["morning", 0.5, "spoon", 60.0, "premixed"]]}
    return {"start": start, "days": 1, **lists, "tank": [0], "feed": [0], "dose": [0], "share": [0.3], "on": ["1"]}


def _body(kind: str, content: Content) -> Any:
    if kind == "posted":
        return zlib.compress(_json(content).encode()) * 2
    texts = {"observed": "leftovers", "noted": "text", "skipped": "because"}
    if kind in texts:
        return content[texts[kind]]
    named = {"served": ("amount", "unit", "amount_mg", "share", "planned", "broke")}
    names = named.get(kind, ("flag", "severity", "extent"))
    return None if kind == "undone" else _json([content[name] for name in names])


def make_old(path: Path, version: int = 1) -> dict[int, str]:
    """A ledger of an earlier schema version with some hundred acts of every kind it knew; its lines by number."""
    kept: dict[int, str] = {}
    path.touch()
    with closing(connect(path, 1)) as connection:
        lay_out(connection, version)
        connection.execute("BEGIN IMMEDIATE")
        chain = bytes(16)
        for act in _acts(version):
            first = len(kept) + 1
            for kind, content in act:
                seq = len(kept) + 1
                head = {"seq": seq, "act": first, "day": DAY.isoformat(), "at": "2026-11-25T07:00:00.000000Z"}
                line = _json(head | {"by": "Ana", "kind": kind} | content)
                chain = blake2b(line.encode(), key=chain, digest_size=16).digest()
                _insert(connection, seq, first, kind, content, chain)
                kept[seq] = line
        connection.execute("COMMIT")
    return kept


def _insert(connection: sqlite3.Connection, seq: int, act: int, kind: str, content: Content, chain: bytes) -> None:
    at = round(MORNING.timestamp()) * 1_000_000
    head = (seq, act, DAY.toordinal(), at, "Ana", kind)
    place = (content.get("tank"), content.get("feed"), content.get("round")) if kind != "posted" else (None,) * 3
    attempt = 0 if kind in ("served", "skipped") else None
    start = date.fromisoformat(content["start"]).toordinal() if kind == "posted" else None
    row = (*head, *place, attempt, content.get("undoes"), start, _body(kind, content), chain)
    connection.execute(f"INSERT INTO entries VALUES ({', '.join('?' * 14)})", row)
