"""Why a document is no planning problem: where the fault is, what was found there, what is allowed."""

from __future__ import annotations

import math
from difflib import get_close_matches

from pydantic import BaseModel
from pydantic_core import ErrorDetails

from schedules.planning.problem.json.schema import Body, Clock, Document, Earlier, Feed, Last, Posted, Tank

Path = tuple[str | int, ...]

_SHOWN = 40  # characters of a wrong value that are shown


class ProblemFault(ValueError):
    """A document that is no planning problem: where the fault is, what was found, what is allowed."""

    def __init__(self, path: Path, found: str, allowed: str) -> None:
        self.path = path_text(path)
        self.found = found
        self.allowed = allowed
        super().__init__(f"{self.path}: found {found}, allowed is {allowed}")


def path_text(path: Path) -> str:
    """A path as a reader writes it: `problem.posted[3].day`; the document itself is `document`."""
    text = ""
    for step in path:
        text += f"[{step}]" if isinstance(step, int) else f".{step}" if text else step
    return text or "document"


def fault_of(detail: ErrorDetails) -> ProblemFault:
    """What one of pydantic's errors says, in our words."""
    path: Path = tuple(step for step in detail["loc"] if step != "[key]")
    found = shown(detail["input"])
    match detail["type"]:
        case "allowed":
            return ProblemFault(path, found, str(detail["ctx"]["allowed"]))
        case "missing":
            return ProblemFault(path, "nothing", "this key, which must be there")
        case "extra_forbidden":
            return _unknown_key(path)
        case "list_type":
            return ProblemFault(path, found, "an array")
        case _:
            return ProblemFault(path, found, "an object")


def _unknown_key(path: Path) -> ProblemFault:
    key = str(path[-1])
    known = sorted(_keys_beside(path))
    meant = get_close_matches(key, known, 1)
    hint = f" (did you mean {meant[0]}?)" if meant else ""
    return ProblemFault(path, f"the unknown key {shown(key)}{hint}", ", ".join(known))


def _keys_beside(path: Path) -> set[str]:
    """The keys that are known where an unknown one was found."""
    models: dict[tuple[str, ...], type[BaseModel]] = {
        (): Document,
        ("problem",): Body,
        ("tanks",): Tank,
        ("clocks",): Clock,
        ("feeds",): Feed,
        ("last",): Last,
        ("earlier_this_week",): Earlier,
        ("posted",): Posted,
    }
    above = path[:-1]
    by_id = len(above) >= 2 and above[-2] in ("tanks", "clocks", "feeds", "posted")
    place = (str(above[-2]),) if by_id else (str(above[-1]),) if above else ()
    return set(models[place].model_fields)


def shown(value: object) -> str:
    """A value as a fault quotes it, cut where it is long."""
    if value is None:
        return "null"
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, (dict, list)):
        return "an object" if isinstance(value, dict) else "an array"
    if isinstance(value, int) and abs(value) >= 10**_SHOWN:
        return f"a whole number of {math.floor(math.log10(abs(value))) + 1} digits"
    text = f'"{value}"' if isinstance(value, str) else str(value)
    return text if len(text) <= _SHOWN else text[:_SHOWN] + "…"
