"""The tables of a room file one by one, each with where it stands: as much as can be made sense of.

`checks` compares tables with one another, also in a file where some of them are faulty. So each table is read for
itself here: a key that is faulty is left out, a table that means nothing without it is left out as a whole. The ids
are taken down as written, so that a faulty feed is not also reported as unknown wherever it is used.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any, Generic, TypeVar

from pydantic import ValidationError

from schedules.room.water.quantities import QUANTITIES
from schedules.room_file.faults import KeyPath
from schedules.room_file.schema.base import Spec
from schedules.room_file.schema.chores import ChoreSpec
from schedules.room_file.schema.equipment import AppetiteSpec, VesselSpec
from schedules.room_file.schema.feeds import ClockSpec, FeedSpec, OverrideSpec
from schedules.room_file.schema.keepers import KeeperSpec, RoundSpec
from schedules.room_file.schema.makeup import InsideSpec, SaltSpec, SourceWaterSpec
from schedules.room_file.schema.room import RoomSpec
from schedules.room_file.schema.tanks import AnimalsSpec, TankSpec, WaterSpec
from schedules.room_file.schema.water import BandSpec

S = TypeVar("S", bound=Spec)


@dataclass(frozen=True, slots=True)
class Placed(Generic[S]):
    """A table that could be read, and its path."""

    path: KeyPath
    spec: S


@dataclass(frozen=True, slots=True)
class PlacedTank:
    """A tank with the parts of it that are read for themselves; `spec` is None where the tank itself is too faulty."""

    path: KeyPath
    spec: TankSpec | None
    water: Placed[WaterSpec] | None
    animals: tuple[Placed[AnimalsSpec], ...]
    overrides: tuple[Placed[OverrideSpec], ...]
    inside: Placed[InsideSpec] | None
    clocks: tuple[Placed[ClockSpec], ...]


@dataclass(frozen=True, slots=True)
class Parts:
    """Every table of the file that could be read, and every id that is written down, by kind and in order."""

    keepers: tuple[Placed[KeeperSpec], ...]
    rounds: tuple[Placed[RoundSpec], ...]
    clocks: tuple[Placed[ClockSpec], ...]
    feeds: tuple[Placed[FeedSpec], ...]
    tanks: tuple[PlacedTank, ...]
    appetite: tuple[Placed[AppetiteSpec], ...]
    vessels: tuple[Placed[VesselSpec], ...]
    chores: tuple[Placed[ChoreSpec], ...]
    bands: tuple[Placed[BandSpec], ...]
    waters: tuple[Placed[SourceWaterSpec], ...]
    salts: tuple[Placed[SaltSpec], ...]
    ids: Mapping[str, tuple[tuple[KeyPath, str], ...]]
    settings: Mapping[str, str]
    has_no_tank: bool


def parts_of(data: Mapping[str, Any], room: RoomSpec | None) -> Parts:
    """The parts of a parsed document, whatever its shape; `room` is the document as a whole where that can be read."""
    reader = _Reader(room)
    racks = list(_tables((), data, "racks"))
    tanks = [table for path, rack in racks for table in _tables(path, rack, "tanks")]
    listed = {kind: list(_tables((), data, kind)) for kind in ("rounds", "feeds", "waters", "salts")} | {
        "racks": racks,
        "tanks": tanks,
    }
    return Parts(
        keepers=reader.read(KeeperSpec, _items((), data, "keepers")),
        rounds=reader.read(RoundSpec, listed["rounds"]),
        clocks=reader.read(ClockSpec, _named((), data, "clocks")),
        feeds=reader.read(FeedSpec, listed["feeds"]),
        tanks=tuple(reader.tank(path, table) for path, table in tanks),
        appetite=reader.read(AppetiteSpec, _table((), data, "appetite")),
        vessels=reader.read(VesselSpec, _vessels(data)),
        chores=reader.whole(ChoreSpec, _tables((), data, "chores")),
        bands=reader.read(BandSpec, _bands(data, tanks)),
        waters=reader.read(SourceWaterSpec, listed["waters"]),
        salts=reader.whole(SaltSpec, listed["salts"]),
        ids={kind: tuple(_ids(tables)) for kind, tables in listed.items()},
        settings={key: value for key, value in data.items() if isinstance(value, str)},
        has_no_tank=not tanks and _is_empty(data.get("racks")),
    )


class _Reader:
    """Reads tables one by one; in a sound document each has been read already and is only looked up."""

    def __init__(self, room: RoomSpec | None) -> None:
        self.room = room

    def tank(self, path: KeyPath, table: Mapping[str, Any]) -> PlacedTank:
        """A tank and the parts of it that are read for themselves."""
        water = self.read(WaterSpec, _table(path, table, "water"))
        inside = self.whole(InsideSpec, _table(path, table, "inside"))
        return PlacedTank(
            path=path,
            spec=self.spec(TankSpec, path, table),
            water=water[0] if water else None,
            animals=self.read(AnimalsSpec, _tables(path, table, "animals")),
            overrides=self.read(OverrideSpec, _named(path, table, "overrides")),
            inside=inside[0] if inside else None,
            clocks=self.read(ClockSpec, _named(path, table, "clocks")),
        )

    def read(self, model: type[S], tables: Iterable[tuple[KeyPath, Any]]) -> tuple[Placed[S], ...]:
        """Every table that can be read at all."""
        placed = ((path, self.spec(model, path, table)) for path, table in tables)
        return tuple(Placed(path, spec) for path, spec in placed if spec is not None)

    def whole(self, model: type[S], tables: Iterable[tuple[KeyPath, Any]]) -> tuple[Placed[S], ...]:
        """Only the tables that hold no fault of their own: for checks on what a table lacks."""
        listed = tuple(tables)
        return self.read(model, (each for each in listed if self.room is not None or _is_sound(model, each[1])))

    def spec(self, model: type[S], path: KeyPath, table: Any) -> S | None:
        """One table, None where it cannot be read."""
        if self.room is None:
            return _salvaged(model, table)
        found: Any = self.room
        for part in path:
            found = getattr(found, part) if isinstance(part, str) and isinstance(found, Spec) else found[part]
        return found if isinstance(found, model) else None


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


def _is_sound(model: type[Spec], table: Any) -> bool:
    try:
        model.model_validate(table)
    except ValidationError:
        return False
    return True


def _items(path: KeyPath, table: Mapping[str, Any], key: str) -> Iterator[tuple[KeyPath, Any]]:
    found = table.get(key)
    if isinstance(found, list):
        yield from (((*path, key, number), item) for number, item in enumerate(found))


def _table(path: KeyPath, table: Mapping[str, Any], key: str) -> Iterator[tuple[KeyPath, dict[str, Any]]]:
    if isinstance(found := table.get(key), dict):
        yield (*path, key), found


def _bands(
    data: Mapping[str, Any], tanks: Iterable[tuple[KeyPath, dict[str, Any]]]
) -> Iterator[tuple[KeyPath, dict[str, Any]]]:
    """Bands of the room, then those of the tanks; under a name that is no quantity there is none."""
    for path, table in (*_table((), data, "water"), *tanks):
        yield from (placed for placed in _named(path, table, "bands") if placed[0][-1] in QUANTITIES)


def _vessels(data: Mapping[str, Any]) -> Iterator[tuple[KeyPath, dict[str, Any]]]:
    for path, tools in _table((), data, "tools"):
        for key in ("syringes", "cups"):
            yield from _tables(path, tools, key)


def _tables(path: KeyPath, table: Mapping[str, Any], key: str) -> Iterator[tuple[KeyPath, dict[str, Any]]]:
    yield from ((place, item) for place, item in _items(path, table, key) if isinstance(item, dict))


def _named(path: KeyPath, table: Mapping[str, Any], key: str) -> Iterator[tuple[KeyPath, dict[str, Any]]]:
    found = table.get(key)
    if isinstance(found, dict):
        yield from (((*path, key, name), item) for name, item in found.items() if isinstance(item, dict))


def _is_empty(racks: Any) -> bool:
    """Whether racks are what racks should be, only without any tank."""
    return isinstance(racks, list) and all(isinstance(rack, dict) and rack.get("tanks", []) == [] for rack in racks)


def _ids(tables: list[tuple[KeyPath, dict[str, Any]]]) -> Iterator[tuple[KeyPath, str]]:
    for path, table in tables:
        if isinstance(table.get("id"), str):
            yield (*path, "id"), table["id"]
