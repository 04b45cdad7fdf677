"""Keepers' passcodes, kept as Argon2id hashes in a file for its owner only (RFC 9106, argon2-cffi's own parameters)."""

from __future__ import annotations

import json
import os
from collections.abc import Mapping
from pathlib import Path
from typing import Final

from argon2 import PasswordHasher
from argon2.exceptions import InvalidHashError, VerificationError

from schedules.ledger.stores.files import whole

FORMAT: Final = "rackround-passcodes/1"
SHORTEST: Final = 6
"""Characters of a passcode at least: with the limit on tries, six digits take a century on average to guess."""
LONGEST: Final = 128
_HASHER: Final = PasswordHasher()
_NOBODY: Final = _HASHER.hash("nobody has this passcode")
"""Checked for a keeper without a passcode, so that the answer takes as long as for one who has."""


class PasscodesFault(Exception):
    """The file of passcodes cannot be read; the text says why."""


def passcodes_path(room_file: Path) -> Path:
    """Where the passcodes of a room are: beside its file."""
    return room_file.with_suffix(".passcodes.json")


def read_passcodes(path: Path) -> dict[str, str]:
    """The hash of each keeper who has a passcode; none where there is no file."""
    try:
        if os.name == "posix" and path.stat().st_mode & 0o077:
            raise PasscodesFault(f"{path}: others can read this file; make it your own with chmod 600")
        document = json.loads(path.read_text("utf-8"))
    except FileNotFoundError:
        return {}
    except (OSError, ValueError) as fault:
        raise PasscodesFault(f"{path}: cannot be read: {fault}") from None
    keepers = document.get("keepers") if isinstance(document, dict) else None
    if not isinstance(keepers, dict) or document.get("format") != FORMAT:
        raise PasscodesFault(f"{path}: this is no file of passcodes; allowed is the format {FORMAT}")
    return {str(name): str(hashed) for name, hashed in keepers.items()}


def write_passcodes(path: Path, hashes: Mapping[str, str]) -> None:
    """Keep the hashes, whole and for the owner only."""
    text = json.dumps({"format": FORMAT, "keepers": dict(hashes)}, indent=1, ensure_ascii=False)
    with whole(path, replace=True) as filled:
        filled.write_text(text + "\n", encoding="utf-8")


def hashed(code: str) -> str:
    """The hash to keep of a passcode. `ValueError` where it is too short, too long or too simple."""
    if not SHORTEST <= len(code) <= LONGEST:
        raise ValueError(f"a passcode has {SHORTEST} to {LONGEST} characters")
    if len(set(code)) == 1 or code in "0123456789012345" or code in "9876543210987654":
        raise ValueError("a passcode is not one character again and again, and no digits in a row")
    return _HASHER.hash(code)


def is_passcode(hashes: Mapping[str, str], keeper: str, code: str) -> bool:
    """Whether this is the keeper's passcode; it takes as long for a keeper who has none. Slow on purpose."""
    try:
        _HASHER.verify(hashes.get(keeper, _NOBODY), code[: LONGEST + 1])
        return keeper in hashes
    except (VerificationError, InvalidHashError):
        return False
