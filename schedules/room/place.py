"""Where a room's ledger is: a file, or a PostgreSQL database by its address. Its password is never shown."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from pathlib import Path
from typing import Final
from urllib.parse import parse_qsl, urlencode

SCHEMES: Final = ("postgresql://", "postgres://")
SECRET_KEYS: Final = frozenset(("password", "sslpassword"))
"""Parts of an address after its question mark that are as secret as the password before its @."""
STANDARD_WAYS: Final = (
    "leave it out and keep it in ~/.pgpass (or the file that PGPASSFILE names), or in a service file (?service=NAME)"
)


_BEFORE_AT: Final = re.compile(r"(?i)(postgres(?:ql)?:/+[^\s:/@]*):[^\s\"']*@")
_IN_QUERY: Final = re.compile(r"(?i)(?<=[?&])(?:ssl)?password=[^&\s\"']*&?")


@dataclass(frozen=True, slots=True)
class Server:
    """The database in which a ledger is. `address` may hold a password and is for the driver alone."""

    address: str = field(repr=False)

    def __str__(self) -> str:
        return without_secrets(self.address)


Place = Path | Server


def place_of(text: str, folder: Path = Path()) -> Place:
    """The place that a text names; a path is read from a folder on."""
    return Server(text) if is_address(text) else folder / text


def is_address(text: str) -> bool:
    """Whether a text is the address of a server and no path."""
    return text.lower().startswith(SCHEMES)


def secrets_of(address: str) -> tuple[str, ...]:
    """The passwords in an address, as written."""
    _, _, password, _, query = _cut(address)
    found = (password, *(value for key, value in _pairs(query) if key.lower() in SECRET_KEYS))
    return tuple(each for each in found if each)


def without_secrets(address: str) -> str:
    """An address without its passwords."""
    scheme, account, _, where, query = _cut(address)
    kept = [(key, value) for key, value in _pairs(query) if key.lower() not in SECRET_KEYS]
    shown = f"{scheme}://{account}{where}"
    return f"{shown}?{urlencode(kept, safe='/')}" if kept else shown


def hidden(text: str) -> str:
    """A text in which no address shows its password, as a fault that quotes a line of a file."""
    return _IN_QUERY.sub("", _BEFORE_AT.sub(r"\1@", text)) if ":/" in text else text


def _cut(address: str) -> tuple[str, str, str, str, str]:
    """Scheme, account, password, the rest from its @ on, and what follows the question mark.

    All up to the last @ counts as account and password: a password that holds an @ or ? as it is must not be shown.
    """
    scheme, _, rest = address.partition("://")
    before, at, after = rest.rpartition("@")
    account, _, password = before.partition(":")
    where, _, query = after.partition("?")
    return scheme, account, password, at + where, query


def _pairs(query: str) -> list[tuple[str, str]]:
    return parse_qsl(query.partition("#")[0], keep_blank_values=True)
