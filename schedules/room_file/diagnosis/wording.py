"""Faults in the keeper's words: what pydantic found, said in those of TOML, with lines and dotted keys."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from typing import Any, Final, get_args

from pydantic_core import ErrorDetails

from schedules.room_file.consistency import Finding
from schedules.room_file.diagnosis.positions import Positions
from schedules.room_file.diagnosis.within import date_meant
from schedules.room_file.faults import Fault, KeyPath
from schedules.room_file.schema.base import Spec
from schedules.room_file.schema.room import RoomSpec
from schedules.room_file.schema.scalars import Allowed, read_id
from schedules.room_file.show import LONGEST, found_text, listed, meant, quoted

_TURNS: Final = (
    "nothing: feeds of a kind take turns by themselves; set how far apart with [clocks.staple] min_gap = 2, "
    "for the room or as [racks.tanks.clocks.staple] for one tank"
)
_TEXTS: Final = ("a text", "a short id", "a time", "a recurrence", "the name", '"')
_NUMBER: Final = re.compile(r"([+-]?\d{1,15}(?:[.,]\d{1,15})?)\s*[^\W\d]{0,12}")
_INSTEAD: Final = {
    "tanks": "[[racks.tanks]], below the [[racks]] that it stands in",
    "group": _TURNS,
    "groups": _TURNS,
    "group_gaps": _TURNS,
    "alone": "most, the largest part of a day's ration that one serving takes",
}
"""Keys that the room file once had, and what to write now."""


def worded(
    details: Iterable[ErrorDetails], findings: Iterable[Finding], data: Mapping[str, Any], positions: Positions
) -> Iterator[Fault]:
    """Faults of the file's shape and faults between keys, each with its line and key."""
    for detail in details:
        path = tuple(part for part in detail["loc"] if part != "[key]")
        if detail["type"] == "too_long":
            path = (*path, detail["ctx"]["max_length"])  # the first that is one too many
        yield Fault(positions.line(path), dotted(path, data), _message(detail, path))
    for finding in findings:
        again = "" if finding.first is None else f" again (first on line {positions.line(finding.first)})"
        message = f"found {finding.found}{again}, allowed is {finding.allowed}"
        yield Fault(positions.line(finding.path), dotted(finding.path, data), message)


def dotted(path: KeyPath, data: Any) -> str:
    """A path as the keeper knows it: `racks[left].tanks[moss-1].volume`, by number (from 1) where there is no id."""
    text = ""
    for part in path:
        inside = _inside(data, part)
        if isinstance(part, int):
            text += f"[{_label(inside) or part + 1}]"
        else:
            text += f".{_key(part)}" if text else _key(part)
        data = inside
    return text


def _message(detail: ErrorDetails, path: KeyPath) -> str:
    context = detail.get("ctx", {})
    match detail["type"]:
        case "allowed":
            found = detail["input"]
            hint = (
                (_unquoted(found, context["allowed"]) or meant(found, context["choices"]))
                if isinstance(found, str)
                else ""
            )
            return f"found {found_text(found)}, allowed is {context['allowed']}{hint}"
        case "missing":
            return f"found nothing, allowed is {_allowed_at(path)}"
        case "extra_forbidden":
            instead = _INSTEAD.get(str(path[-1]))
            if instead and (len(path) == 1 or path[-1] != "tanks"):
                return f"found {quoted(str(path[-1]))}, allowed is {instead}"
            keys = _keys(_model_at(path[:-1]))
            return f"found an unknown key, allowed are {listed(keys, 40)}{meant(str(path[-1]), keys)}"
        case "too_long":
            most = context["max_length"]
            return f"found {len(detail['input'])} in one array, allowed are at most {most}"
        case "empty":
            return f"found an empty array, allowed is one that holds something, as in {_array_like(path)}"
        case "tuple_type" if isinstance(detail["input"], dict) and is_array_of_tables(path):
            like = _array_like(path)
            return f"found one table, allowed is an array of them: {like} in place of {like[1:-1]}, or [{{ … }}]"
        case "tuple_type":
            return f"found {found_text(detail['input'])}, allowed is an array, as in {_array_like(path)}"
        case _:
            return f"found {found_text(detail['input'])}, allowed is a table"


def _model_at(path: KeyPath) -> type[Spec]:
    """The model of the table at a path, or of the nearest one around it."""
    model: type[Spec] = RoomSpec
    for part in path:
        if isinstance(part, str) and part in _keys(model):
            model = _spec_within(_keys(model)[part].annotation) or model
    return model


def _keys(model: type[Spec]) -> dict[str, Any]:
    """A model's fields by the key they have in the file, its own before those it shares with others."""
    own = sorted(model.model_fields.items(), key=lambda named: named[0] not in model.__annotations__)
    return {field.alias or name: field for name, field in own}


def _spec_within(annotation: Any) -> type[Spec] | None:
    """The model inside an annotation such as `tuple[TankSpec, ...] | None`."""
    if isinstance(annotation, type) and issubclass(annotation, Spec):
        return annotation
    return next((found for part in get_args(annotation) if (found := _spec_within(part))), None)


def _allowed_at(path: KeyPath) -> str:
    field = _keys(_model_at(path[:-1])).get(str(path[-1]))
    sentences = [extra.text for extra in field.metadata if isinstance(extra, Allowed)] if field else []
    return sentences[0] if sentences else f"at least one [[{path[-1]}]] table"


def _array_like(path: KeyPath) -> str:
    """What an array at a path looks like in a file: of tables by their header, of plain values in brackets."""
    field = _keys(_model_at(path[:-1])).get(str(path[-1]))
    if field is None or _spec_within(field.annotation) is None:
        return "[ … ]"
    return f"[[{'.'.join(part for part in path if isinstance(part, str))}]]"


def is_array_of_tables(path: KeyPath) -> bool:
    """Whether a path is that of an array of tables, as `feeds` is, or of one of its tables."""
    while path and isinstance(path[-1], int):
        path = path[:-1]
    return bool(path) and _array_like(path) != "[ … ]" and "tuple" in f"{_field_at(path)}"


def _field_at(path: KeyPath) -> Any:
    field = _keys(_model_at(path[:-1])).get(str(path[-1]))
    return None if field is None else field.annotation


def _unquoted(found: str, allowed: str) -> str:
    """`; did you mean …, without quotes?` for a number, a date or a truth value that was written as a text."""
    if allowed.startswith(_TEXTS):
        return ""
    word: str | None = None
    if allowed == "true or false":
        word = {"true": "true", "yes": "true", "false": "false", "no": "false"}.get(found.strip().casefold())
    elif "date" in allowed.lower():
        word = date_meant(found)
    elif number := _NUMBER.fullmatch(found.strip()):
        word = number[1].replace(",", ".")
    return f"; did you mean {word}, without quotes?" if word else ""


def _inside(data: Any, part: str | int) -> Any:
    try:
        return data[part]
    except (KeyError, IndexError, TypeError):
        return None


def _label(table: Any) -> str | None:
    """The id by which a table of an array is known, if it has a sound one."""
    try:
        return read_id(table["id"])
    except (TypeError, LookupError, ValueError):
        return None


def _key(key: str) -> str:
    bare = key.isascii() and key.replace("-", "").replace("_", "").isalnum()
    return key[:LONGEST] if bare else quoted(key)
