"""The fields of an entry: a type and a meaning each, from which its checks and its description follow.

A kind is a dataclass whose fields are annotated, for example `amount: Annotated[float, Field("how much", unit="mg")]`.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import dataclass, fields
from math import isfinite
from types import NoneType, UnionType
from typing import Annotated, Any, Final, Literal, Union, get_args, get_origin, get_type_hints

from schedules.ledger.reason import IDENTIFIER, Reason

MOST: Final = 1e9
"""The largest number an entry may hold unless its field says otherwise: a ton in milligrams."""
_SHOWN: Final = 60
"""So many characters of a wrong value are shown at most."""


class Malformed(ValueError):
    """A value that no entry can hold: under which key, what was found, what is allowed."""

    def __init__(self, key: str, found: Any, allowed: str) -> None:
        super().__init__(f"{key}: found {shown(found)}, allowed is {allowed}")


def shown(value: Any) -> str:
    """A value for a message, short and on one line."""
    try:
        text = json.dumps(value)
    except (TypeError, ValueError, RecursionError):
        text = ascii(value)
    return text if len(text) <= _SHOWN else f"{text[:_SHOWN]}…"


@dataclass(frozen=True, slots=True)
class Field:
    """What a field means, its unit, and its limits beyond its type.

    Numbers are from `least` to `most`. `key` is its name in a line where that differs. A text that is not `empty` has
    at least one character.
    """

    meaning: str
    unit: str | None = None
    least: float = 0.0
    most: float = MOST
    key: str | None = None
    empty: bool = True


@dataclass(frozen=True, slots=True)
class FieldForm:
    """A field of a kind with everything that follows from its annotation."""

    name: str
    key: str
    type: type
    optional: bool
    choices: tuple[str, ...]
    field: Field

    @property
    def allowed(self) -> str:
        """What the field may hold, in words."""
        texts = {str: "a text", bool: "true or false", int: "a whole number", Reason: "a code with its values"}
        said = texts.get(self.type, "a number")
        if self.choices:
            said = "one of " + ", ".join(self.choices)
        elif self.type in (int, float):
            said += f" from {self.field.least:.10g} to {self.field.most:.10g}"
        elif self.type is str and not self.field.empty:
            said += " of at least one character"
        return said + (" or null" if self.optional else "")

    def read(self, value: Any) -> Any:
        """The field's value from a JSON value; `Malformed` where it is of another type."""
        if value is None and self.optional:
            return None
        if self.type is Reason:
            try:
                return Reason.read(value)
            except ValueError:
                raise self.refusal(value) from None
        of_type = isinstance(value, (int, float) if self.type is float else self.type)
        if not of_type or (isinstance(value, bool) and self.type is not bool):
            raise self.refusal(value)
        if self.choices and value not in self.choices:
            raise self.refusal(value)
        return self._as_number(value) if self.type is float else value

    def _as_number(self, value: int | float) -> float:
        try:
            number = float(value)
        except OverflowError:
            raise self.refusal(value) from None
        if not isfinite(number):
            raise self.refusal(value)
        return number

    def written(self, value: Any) -> Any:
        """The JSON value of a field's value."""
        return value.written() if isinstance(value, Reason) else value

    def settled(self, value: Any) -> Any:
        """The value as it will be read back; `Malformed` where it is beyond what the field may hold."""
        value = self.read(self.written(value))
        if value is None:
            return None
        if self.type in (int, float) and not self.field.least <= value <= self.field.most:
            raise self.refusal(value)
        if value == "" and not self.field.empty:
            raise self.refusal(value)
        if isinstance(value, Reason):
            self._check_reason(value)
        for text in _texts(value):
            check_text(self.key, text)
        return value

    def _check_reason(self, reason: Reason) -> None:
        if not all(IDENTIFIER.fullmatch(name) for name in (reason.code, *dict(reason.values))):
            raise Malformed(self.key, reason.written(), "a code and names of values in a-z, 0-9 and _")
        for name, value in reason.values:
            if isinstance(value, float) and not abs(value) <= MOST:
                raise Malformed(f"{self.key}.{name}", value, f"a number up to {MOST:.10g}")

    def refusal(self, found: Any) -> Malformed:
        """A fault that says what the field may hold."""
        return Malformed(self.key, found, self.allowed)


def check_text(key: str, text: str) -> None:
    """`Malformed` where a text holds characters that cannot be saved (halves of a surrogate pair)."""
    try:
        text.encode()
    except UnicodeEncodeError:
        raise Malformed(key, text, "a text without characters that cannot be saved") from None


def _texts(value: Any) -> Iterator[str]:
    values = dict(value.values).values() if isinstance(value, Reason) else (value,)
    return (each for each in values if isinstance(each, str))


_KNOWN: Final[dict[type, tuple[FieldForm, ...]]] = {}


def forms_of(made: type[Any]) -> tuple[FieldForm, ...]:
    """The fields of a kind's dataclass, in order. A field without `Annotated[…, Field(…)]` is a TypeError."""
    if made not in _KNOWN:
        _KNOWN[made] = _forms(made)
    return _KNOWN[made]


def _forms(made: type[Any]) -> tuple[FieldForm, ...]:
    hints = get_type_hints(made, include_extras=True)
    return tuple(_form(field.name, hints[field.name]) for field in fields(made))


def _form(name: str, hint: Any) -> FieldForm:
    said = [each for each in getattr(hint, "__metadata__", ()) if isinstance(each, Field)]
    if get_origin(hint) is not Annotated or not said:
        raise TypeError(f"the field {name!r} says no meaning: Annotated[type, Field(…)] is expected")
    of_type, optional, choices = get_args(hint)[0], False, ()
    if get_origin(of_type) in (Union, UnionType):
        optional = NoneType in get_args(of_type)
        (of_type,) = [each for each in get_args(of_type) if each is not NoneType]
    if get_origin(of_type) is Literal:
        of_type, choices = str, get_args(of_type)
    return FieldForm(name, said[0].key or name, of_type, optional, choices, said[0])
