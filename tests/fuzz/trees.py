"""Mutations of a JSON document: values, keys and items put in, taken out, doubled."""

from __future__ import annotations

import json
from copy import deepcopy
from random import Random
from typing import Any, Final

VALUES: Final[tuple[Any, ...]] = (
    None,
    True,
    0,
    -1,
    1,
    7,
    367,
    2**63,
    10**400,
    1e308,
    -1e308,
    5e-324,
    float("nan"),
    float("inf"),
    "",
    "a",
    "0",
    "2026-02-29",
    "0001-01-01",
    "9999-12-31",
    "2026-11-25T07:03:12.000000Z",
    "\x1b[2J\u202e",
    "x" * 5000,
    [],
    {},
    [1],
    [[]],
    {"a": {}},
)


def mutated(chance: Random, document: Any) -> Any:
    """A copy of a document with one to four mutations."""
    copy = deepcopy(document)
    for _ in range(chance.randint(1, 4)):
        _mutate(chance, copy)
    return copy


def _mutate(chance: Random, document: Any) -> None:
    place = document
    while isinstance(place, dict | list) and place:
        key = chance.choice(list(place)) if isinstance(place, dict) else chance.randrange(len(place))
        below = place[key]
        if isinstance(below, dict | list) and below and chance.random() < 0.85:
            place = below
            continue
        _change(chance, place, key)
        return


def _change(chance: Random, place: Any, key: Any) -> None:
    kind = chance.randrange(6)
    if kind < 4:
        place[key] = deepcopy(chance.choice(VALUES))
    elif kind == 4:
        del place[key]
    elif isinstance(place, list):
        place.insert(chance.randrange(len(place) + 1), deepcopy(chance.choice((place[key], *VALUES))))
    else:
        place[chance.choice(("more", "", "id", "day", str(key) * 2))] = deepcopy(chance.choice((place[key], *VALUES)))


def text(document: Any) -> str:
    """A document as text: also what JSON does not know, as Python writes it."""
    return json.dumps(document)
