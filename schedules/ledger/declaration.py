"""How a kind of entry is declared: once, in one file of `entries/`. Everything else follows from the declaration.

Lines (`lines.py`), rows of the store (`stores/sqlite/rows.py`), admission, marks, undo, checks of an import, words and
the description of the format all walk the kinds declared here.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from typing import Any, Final, Generic, Protocol, TypeVar

from schedules.ledger.entry import What
from schedules.ledger.fields import FieldForm, Malformed, forms_of
from schedules.ledger.reason import Reason
from schedules.room.water.quantities import Quantity

Content = dict[str, Any]
"""The JSON values of what an entry says, by key, in the order in which they are written."""
W = TypeVar("W", bound=What)


class Names(Protocol):
    """How the keeper calls things: what the words of a kind are made with."""

    def tank(self, tank: str) -> str:
        """A tank's name."""
        ...

    def feed(self, feed: str) -> str:
        """A feed's name."""
        ...

    def day(self, day: date) -> str:
        """A day."""
        ...

    def amount(self, tank: str, feed: str, amount: float, unit: str, milligrams: float) -> str:
        """An amount of a feed as the keeper takes it."""
        ...

    def reason(self, reason: Reason) -> str:
        """A reason in words."""
        ...

    def flag(self, flag: str, feed: str | None) -> str:
        """A flag's kind in words, with the feed it is about."""
        ...

    def reading(self, quantity: Quantity, value: float) -> str:
        """A quantity of the water with its value in the keeper's units."""
        ...

    def grams(self, grams: float) -> str:
        """A mass on the shelf."""
        ...

    def volume(self, litres: float) -> str:
        """A volume of water in the keeper's units."""
        ...

    def water(self, source: str | None) -> str:
        """A make-up water, None for pure water."""
        ...

    def salt(self, salt: str) -> str:
        """A salt's name."""
        ...

    def chore(self, chore: str) -> str:
        """A chore's name."""
        ...

    def place(self, tank: str | None, rack: str | None) -> str:
        """Where a chore is done: a tank, a rack, or (both None) the room."""
        ...


@dataclass(frozen=True, slots=True)
class Earlier:
    """A schema version of a kind that is no longer written: the keys of its lines, and its content as the next version.

    `upcast` may change the content it is given.
    """

    keys: tuple[str, ...]
    upcast: Callable[[Content], Content]


class Codec(Protocol[W]):
    """A form of its own for a kind whose content is large."""

    def write(self, what: W) -> Content:
        """The content of what an entry says."""
        ...

    def read(self, content: Content) -> W:
        """What a content says; `Malformed` or another ValueError, TypeError, KeyError or IndexError if nothing."""
        ...

    def shrink(self, content: Content) -> bytes:
        """The content as it is kept in a store."""
        ...

    def grow(self, body: bytes) -> Content:
        """The content again."""
        ...

    def check(self, body: bytes) -> None:
        """ValueError where parts of the kept form say different things."""
        ...

    def settled(self, what: W) -> W:
        """The same as it will be read back; `Malformed` where it cannot be written."""
        ...

    def description(self) -> tuple[str, ...]:
        """Lines that describe the content."""
        ...


@dataclass(frozen=True, slots=True, kw_only=True)
class EntryKind(Generic[W]):
    """The declaration of one kind of entry.

    `name` stands in every line and row. `made` is its dataclass. `meaning` is one sentence for the description of the
    format, `words` what an entry about a day says to a
    keeper, in plain text.

    `mark` names what can stand only once for the same tank, feed and day: a family and a name within it, None for
    what can be written any number of times. Kinds may share a family: a serving is given or skipped. `start` is the
    day from which on an entry holds: a second one with the same start must be one that `continues` the first.

    An entry that is `alone` is an act by itself. One that `undoes` an act takes it back; not every kind is `undoable`.

    `earlier` are the schema versions that are no longer written, the oldest first.
    """

    name: str
    made: type[W]
    meaning: str
    words: Callable[[W, date, Names], str]
    mark: Callable[[W], tuple[str, str] | None] = lambda _: None
    start: Callable[[W], date] | None = None
    continues: Callable[[W, W], bool] = lambda _one, _other: False
    alone: bool = False
    undoable: bool = True
    undoes: Callable[[W], int] | None = None
    earlier: tuple[Earlier, ...] = ()
    codec: Codec[W] | None = None

    @property
    def version(self) -> int:
        """The schema version that is written now."""
        return len(self.earlier) + 1

    @property
    def forms(self) -> tuple[FieldForm, ...]:
        """The kind's fields; none where it has a form of its own."""
        return () if self.codec else forms_of(self.made)

    def keys(self, version: int) -> tuple[str, ...]:
        """The keys of the content of a schema version, in order."""
        if version != self.version:
            return self.earlier[version - 1].keys
        return () if self.codec else _keys_of(self.made)

    def content(self, what: W) -> Content:
        """What an entry says, as JSON values of the newest schema version."""
        if self.codec:
            return self.codec.write(what)
        return {form.key: form.written(getattr(what, form.name)) for form in self.forms}

    def read(self, content: Content, version: int) -> W:
        """What a content of a schema version says. `Malformed` names the key that is wrong, missing or unknown."""
        if self.codec is None:
            check_keys(content, self.keys(version))
        content = self.as_now(content, version)
        if self.codec:
            return self.codec.read(content)
        return self.made(**{form.name: form.read(content[form.key]) for form in self.forms})

    def as_now(self, content: Content, version: int) -> Content:
        """A content of a schema version in the newest one; what was written is not changed."""
        now = dict(content)
        for before in self.earlier[version - 1 :]:
            now = before.upcast(now)
        return now

    def settled(self, what: W) -> W:
        """The same as it will be read back; `Malformed` where it cannot be written down."""
        if self.codec:
            return self.codec.settled(what)
        return self.made(**{form.name: form.settled(getattr(what, form.name)) for form in self.forms})


_KEYS: Final[dict[type, tuple[str, ...]]] = {}


def _keys_of(made: type[Any]) -> tuple[str, ...]:
    if made not in _KEYS:
        _KEYS[made] = tuple(form.key for form in forms_of(made))
    return _KEYS[made]


def check_keys(content: Content, keys: tuple[str, ...], allowed: str = "") -> None:
    """`Malformed` unless a content has exactly these keys."""
    if tuple(content) == keys:
        return
    for key in keys:
        if key not in content:
            raise Malformed(key, None, "a value under this key, which is missing")
    for key in content:
        if key not in keys:
            raise Malformed(key, content[key], f"only the keys {allowed or ', '.join(keys)}")


class UnknownKind(Malformed):
    """A kind, or a schema version of one, that only a newer program knows."""

    def __init__(self, name: Any, version: Any) -> None:
        known = ", ".join(f"{kind.name} ({kind.version})" for kind in kinds())
        super().__init__("kind", f"{name} ({version})", f"up to the schema version in brackets: {known}")


_BY_NAME: dict[str, EntryKind[Any]] = {}
_BY_TYPE: dict[type, EntryKind[Any]] = {}


def declare(kind: EntryKind[W]) -> EntryKind[W]:
    """Make a kind known to everything that walks the kinds. A second kind of the same name is a ValueError."""
    if kind.name in _BY_NAME:
        raise ValueError(f"there is a kind of entry named {kind.name!r} already")
    _BY_NAME[kind.name] = _BY_TYPE[kind.made] = kind
    return kind


def kinds() -> tuple[EntryKind[Any], ...]:
    """Every kind there is, by name."""
    return tuple(_BY_NAME[name] for name in sorted(_BY_NAME))


def kind_of(what: What) -> EntryKind[Any]:
    """The kind of what an entry says."""
    return _BY_TYPE[type(what)]


def kind_named(name: Any, version: Any = 1) -> EntryKind[Any]:
    """The kind of a name; `UnknownKind` where there is none, or none of that schema version."""
    kind = _BY_NAME.get(name) if isinstance(name, str) else None
    if kind is None or type(version) is not int or not 1 <= version <= kind.version:
        raise UnknownKind(name, version)
    return kind
