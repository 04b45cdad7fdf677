"""The keeper's own keys and colours, from a small TOML file. Without one, everything is as it comes.

theme = "day"            # dusk, day, terminal-dark, terminal-light
[keys]
finish = "space,f5"      # an act by its name, and its keys, the first one shown
"""

from __future__ import annotations

import os
import re
import sys
from collections.abc import Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, Final

from tui.acts import ACTS, BY_ID
from tui.theme import NAMED

FILE: Final = "rackround.toml"
_KEY: Final = re.compile(r"[a-z0-9]|space|enter|escape|up|down|left|right|home|end|pageup|pagedown|f([1-9]|1[0-2])")
_FIXED: Final = frozenset(("up", "down", "home", "end", "pageup", "pagedown"))
"""Keys that move through every list; an act of one screen would get in their way."""
ALLOWED: Final = "a small letter, a digit, space, enter, escape, left, right or f1 to f12; several with commas"


class PreferencesFaults(Exception):
    """What is wrong with the file, each a line `FILE:LINE: key: what was found, what is allowed`."""

    def __init__(self, lines: list[str]) -> None:
        super().__init__("\n".join(lines))
        self.lines: Final = lines


@dataclass(frozen=True, slots=True)
class Preferences:
    """The name of the colours (None: as they come), and keys by the names of acts."""

    theme: str | None = None
    keys: Mapping[str, str] = field(default_factory=dict)


def preferences_path() -> Path:
    """Where the file is looked for: in the configuration folder of this kind of machine."""
    if sys.platform == "win32":
        return Path(os.environ.get("APPDATA", str(Path.home()))) / "rackround" / FILE
    return Path(os.environ.get("XDG_CONFIG_HOME") or Path.home() / ".config") / "rackround" / FILE


def load_preferences(path: Path | None = None) -> Preferences:
    """The preferences in a file that is named, or in the usual place where there is one; `PreferencesFaults` else."""
    place = path or preferences_path()
    if path is None and not place.exists():
        return Preferences()
    # Imported here and not above: most keepers have no such file.
    import tomllib

    try:
        text = place.read_text(encoding="utf-8")
        data = tomllib.loads(text)
    except (OSError, UnicodeDecodeError) as fault:
        reason = fault.strerror if isinstance(fault, OSError) else "it is no UTF-8 text"
        raise PreferencesFaults([f"{place}: cannot be read: {reason}"]) from None
    except (ValueError, RecursionError) as fault:
        raise PreferencesFaults([f"{place}: is no TOML: {fault}"]) from None
    found = [*_top(data), *_keys(data)]
    if found:
        raise PreferencesFaults(_told(place, text, found))
    return Preferences(
        NAMED.get(data.get("theme", "")), {act: _plain(keys) for act, keys in data.get("keys", {}).items()}
    )


_Found = tuple[tuple[str, ...], str]


def _told(place: Path, text: str, found: Iterable[_Found]) -> list[str]:
    # Imported here and not above: where keys stand matters only where one is wrong.
    from schedules.room_file.diagnosis.positions import find_positions

    positions = find_positions(text)
    return [f"{place}:{positions.line(keys)}: {'.'.join(keys)}: {said}" for keys, said in found]


def _plain(keys: str) -> str:
    return ",".join(key.strip() for key in keys.split(","))


def _top(data: Mapping[str, Any]) -> Iterator[_Found]:
    for key in data:
        if key not in ("theme", "keys"):
            yield (key,), f"unknown; {_meant(key, ('theme', 'keys'))}"
    theme = data.get("theme")
    if theme is not None and (not isinstance(theme, str) or theme not in NAMED):
        yield ("theme",), f"found {theme!r}, allowed: {', '.join(NAMED)}"
    if not isinstance(data.get("keys", {}), dict):
        yield ("keys",), 'found a value, a table is allowed: [keys] and below it finish = "space"'


def _keys(data: Mapping[str, Any]) -> Iterator[_Found]:
    keys = data.get("keys", {})
    if not isinstance(keys, dict):
        return
    sound = {}
    for act, wanted in keys.items():
        if act not in BY_ID:
            yield ("keys", act), f"no act of this name; {_meant(act, tuple(BY_ID))}"
        elif not isinstance(wanted, str) or not all(_is_key(key) for key in _plain(wanted).split(",")):
            yield ("keys", act), f"found {wanted!r}, allowed: {ALLOWED}"
        else:
            sound[act] = _plain(wanted)
    for act in sound:
        other = _clash(act, sound)
        if other is not None:
            yield ("keys", act), f'"{sound[act]}" is also a key of {other} on the same screen; give that another one'


def _is_key(key: str) -> bool:
    return _KEY.fullmatch(key) is not None and key not in _FIXED


def _clash(act: str, keys: Mapping[str, str]) -> str | None:
    """Another act that has one of this act's keys on a screen where both can be done."""
    mine = set(keys[act].split(","))
    for other in ACTS:
        theirs = set((keys.get(other.id) or other.key).split(","))
        if other.id != act and mine & theirs and BY_ID[act].places & other.places:
            return other.id
    return None


def _meant(found: str, known: Collection[str]) -> str:
    # Imported here and not above, like all that only a fault needs.
    from difflib import get_close_matches

    near = get_close_matches(found, known, n=1, cutoff=0.5)
    return f'did you mean "{near[0]}"?' if near else f"known: {', '.join(known)}"
