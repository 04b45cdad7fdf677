"""The tables of a room file one by one, each with where it stands: as much as can be made sense of.

`checks` compares tables with one another, also in a file where some of them are faulty. So each table is read for
itself here: a key that is faulty is left out, a table that means nothing without it is left out as a whole. The ids
are taken down as written, so that a faulty feed is not also reported as unknown wherever it is used.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any, Generic, TypeVar

from pydantic import ValidationError

from schedules.room_file.positions import Path
from schedules.room_file.schema import (
    AnimalsSpec,
    FeedSpec,
    GroupSpec,
    KeeperSpec,
    OverrideSpec,
    RoundSpec,
    Spec,
    TankSpec,
    WaterSpec,
)

S = TypeVar("S", bound=Spec)


@dataclass(frozen=True, slots=True)
class Placed(Generic[S]):
    """A table that could be read, and its path."""

    path: Path
    spec: S


@dataclass(frozen=True, slots=True)
class PlacedTank:
    """A tank with the parts of it that are read for themselves; `spec` is None where the tank itself is too faulty."""

    path: Path
    spec: TankSpec | None
    water: Placed[WaterSpec] | None
    animals: tuple[Placed[AnimalsSpec], ...]
    overrides: tuple[Placed[OverrideSpec], ...]


@dataclass(frozen=True, slots=True)
class Parts:
    """Every table of the file that could be read, and every id that is written down, by kind and in order."""

    keepers: tuple[Placed[KeeperSpec], ...]
    rounds: tuple[Placed[RoundSpec], ...]
    groups: tuple[Placed[GroupSpec], ...]
    feeds: tuple[Placed[FeedSpec], ...]
    tanks: tuple[PlacedTank, ...]
    ids: Mapping[str, tuple[tuple[Path, str], ...]]
    settings: Mapping[str, str]


def parts_of(data: Mapping[str, Any]) -> Parts:
    """The parts of a parsed document, whatever shape it has."""
    racks = list(_tables((), data, "racks"))
    tanks = [table for path, rack in racks for table in _tables(path, rack, "tanks")]
    listed = {kind: list(_tables((), data, kind)) for kind in ("rounds", "feeds")} | {"racks": racks, "tanks": tanks}
    return Parts(
        keepers=_read(KeeperSpec, _items((), data, "keepers")),
        rounds=_read(RoundSpec, listed["rounds"]),
        groups=_read(GroupSpec, _named((), data, "groups")),
        feeds=_read(FeedSpec, listed["feeds"]),
        tanks=tuple(_tank(path, table) for path, table in tanks),
        ids={kind: tuple(_ids(tables)) for kind, tables in listed.items()},
        settings={key: value for key, value in data.items() if isinstance(value, str)},
    )


def _tank(path: Path, table: Mapping[str, Any]) -> PlacedTank:
    water = table.get("water")
    return PlacedTank(
        path=path,
        spec=_salvaged(TankSpec, table),
        water=next(iter(_read(WaterSpec, [((*path, "water"), water)])), None) if isinstance(water, dict) else None,
        animals=_read(AnimalsSpec, _tables(path, table, "animals")),
        overrides=_read(OverrideSpec, _named(path, table, "overrides")),
    )


def _read(model: type[S], tables: Any) -> tuple[Placed[S], ...]:
    placed = ((path, _salvaged(model, table)) for path, table in tables)
    return tuple(Placed(path, spec) for path, spec in placed if spec is not None)


def _salvaged(model: type[S], table: Any) -> S | None:
    """A table without its faulty keys, None where nothing is left that holds by itself."""
    try:
        return model.model_validate(table)
    except ValidationError as error:
        if not isinstance(table, dict):
            return None
        faulty = {fault["loc"][0] for fault in error.errors(include_url=False, include_input=False) if fault["loc"]}
    try:
        return model.model_validate({key: value for key, value in table.items() if key not in faulty})
    except ValidationError:
        return None


def _items(path: Path, table: Mapping[str, Any], key: str) -> Iterator[tuple[Path, Any]]:
    found = table.get(key)
    if isinstance(found, list):
        yield from (((*path, key, number), item) for number, item in enumerate(found))


def _tables(path: Path, table: Mapping[str, Any], key: str) -> Iterator[tuple[Path, dict[str, Any]]]:
    yield from ((place, item) for place, item in _items(path, table, key) if isinstance(item, dict))


def _named(path: Path, table: Mapping[str, Any], key: str) -> Iterator[tuple[Path, dict[str, Any]]]:
    found = table.get(key)
    if isinstance(found, dict):
        yield from (((*path, key, name), item) for name, item in found.items() if isinstance(item, dict))


def _ids(tables: list[tuple[Path, dict[str, Any]]]) -> Iterator[tuple[Path, str]]:
    for path, table in tables:
        if isinstance(table.get("id"), str):
            yield (*path, "id"), table["id"]
