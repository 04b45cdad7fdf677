"""A room as plain data, as JSON can hold it, and back: lists for values and sets, objects for mappings.

Only the shape is checked: what is wrong with the data raises `DataFault`. A codec is worked out once for each
type, from the fields that its dataclass declares, so a new field needs nothing here.
"""

from __future__ import annotations

import types
from collections.abc import Callable, Mapping
from dataclasses import fields, is_dataclass
from datetime import date, time
from functools import lru_cache
from typing import Any, Final, Literal, NamedTuple, Union, get_args, get_origin, get_type_hints
from zoneinfo import ZoneInfo

from schedules.room.model import Room


class DataFault(ValueError):
    """The data has not the shape of a room."""


def room_data(room: Room) -> Any:
    """A room as lists, objects, texts, numbers and None."""
    return _codec(Room).pack(room)


def room_from(data: Any) -> Room:
    """The room that data stands for. Raises `DataFault`."""
    try:
        room = _codec(Room).unpack(data)
    except (TypeError, ValueError, LookupError, AttributeError, OSError, RecursionError) as error:
        raise DataFault(str(error)) from error
    assert isinstance(room, Room)
    return room


class _Codec(NamedTuple):
    """How values of a type become data and come back."""

    pack: Callable[[Any], Any]
    unpack: Callable[[Any], Any]


def _same(value: Any) -> Any:
    return value


def _only(*kinds: type) -> _Codec:
    """Values that are data already. A bool counts as no number."""

    def unpack(data: Any) -> Any:
        if type(data) not in kinds:
            raise DataFault(f"found {type(data).__name__}")
        return data

    return _Codec(_same, unpack)


_PLAIN: Final[Mapping[Any, _Codec]] = {
    str: _only(str),
    bool: _only(bool),
    int: _only(int),
    float: _only(float, int),
    types.NoneType: _only(types.NoneType),
    date: _Codec(date.isoformat, date.fromisoformat),
    time: _Codec(time.isoformat, time.fromisoformat),
    ZoneInfo: _Codec(lambda zone: zone.key, ZoneInfo),
}


@lru_cache(maxsize=256)
def _codec(hint: Any) -> _Codec:
    if hint in _PLAIN:
        return _PLAIN[hint]
    if is_dataclass(hint):
        return _of_dataclass(hint)
    makers: dict[Any, Callable[..., _Codec]] = {
        Literal: _of_literal,
        tuple: _of_tuple,
        frozenset: _of_frozenset,
        Mapping: _of_mapping,
        dict: _of_mapping,
        Union: _of_union,
        types.UnionType: _of_union,
    }
    return makers[get_origin(hint)](*get_args(hint))


def _of_dataclass(kind: Any) -> _Codec:
    """A list of the fields, in their order."""
    hints = get_type_hints(kind)
    names = [each.name for each in fields(kind)]
    codecs = [_codec(hints[name]) for name in names]
    packs = [(name, codec.pack) for name, codec in zip(names, codecs, strict=True)]
    unpacks = [codec.unpack for codec in codecs]

    def unpack(data: Any) -> Any:
        if type(data) is not list:
            raise DataFault(f"{kind.__name__} is no list")
        return kind(*[unpack(value) for unpack, value in zip(unpacks, data, strict=True)])

    return _Codec(lambda value: [pack(getattr(value, name)) for name, pack in packs], unpack)


def _of_literal(*allowed: Any) -> _Codec:
    known = {value: value for value in allowed}
    return _Codec(_same, known.__getitem__)


def _of_tuple(item: Any, _more: Any) -> _Codec:
    pack, unpack = _codec(item)
    return _Codec(
        lambda value: [pack(each) for each in value], lambda data: tuple([unpack(each) for each in _list(data)])
    )


def _of_frozenset(item: Any) -> _Codec:
    pack, unpack = _codec(item)
    return _Codec(
        lambda value: sorted(pack(each) for each in value),
        lambda data: frozenset([unpack(each) for each in _list(data)]),
    )


def _of_mapping(key: Any, item: Any) -> _Codec:
    """Keys are texts."""
    key_of, (pack, unpack) = _codec(key).unpack, _codec(item)
    return _Codec(
        lambda value: {key: pack(each) for key, each in value.items()},
        lambda data: {key_of(key): unpack(each) for key, each in data.items()},
    )


def _of_union(*kinds: Any) -> _Codec:
    """A type or None."""
    (kind,) = (each for each in kinds if each is not types.NoneType)
    pack, unpack = _codec(kind)
    return _Codec(
        lambda value: None if value is None else pack(value), lambda data: None if data is None else unpack(data)
    )


def _list(data: Any) -> list[Any]:
    if type(data) is not list:
        raise DataFault(f"found {type(data).__name__} instead of a list")
    return data
