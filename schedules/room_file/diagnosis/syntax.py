"""Text that is no TOML: the parser's complaint with its line and key, in the keeper's words.

The parser stops at the first thing it cannot read, and says so in terms of its own grammar. What a keeper most often
writes instead of TOML (a time without seconds, a number with its unit, a text without quotes) is recognised here and
named for what it is.
"""

from __future__ import annotations

import re
from typing import Final

from schedules.room_file.diagnosis.positions import Positions, find_positions
from schedules.room_file.diagnosis.toml import LongKey
from schedules.room_file.diagnosis.within import date_meant, missing_comma, piece_at, without_odd_spaces
from schedules.room_file.diagnosis.wording import dotted, is_array_of_tables
from schedules.room_file.faults import Fault, KeyPath
from schedules.room_file.show import LONGEST, printable
from schedules.room_file.text import MOST_KEY_PARTS

_PLACE: Final = re.compile(r"\(at (?:line (\d+), column (\d+)|end of document)\)$")
_MOST_DIGITS: Final = re.compile(r"(?<!\d)\d{4300,}")
_END_WITHIN: Final = re.compile(r"[,}\]]")
_LONGEST_VALUE: Final = 1000

_OTHER_DATE: Final = r"\d{1,4}([./-])\s*\d{1,2}\1\s*\d{1,4}\.?$|\d{1,2}\.?\s*[^\W\d]{3,9}\.?\s*\d{2,4}$"
_VALUE_HINTS: Final[tuple[tuple[str, str], ...]] = (
    (r"$", 'a value after the equals sign, as in name = "Back room"'),
    (r"\d{1,2}:\d{2}$", "a time with its seconds, as in 07:00:00"),
    (r"\d{1,2}:\d{2}", "a time that exists, as in 07:00:00"),
    (r"\d{4}-\d{1,2}-\d{1,2}", "a date that exists, as year-month-day: 2026-11-25"),
    (_OTHER_DATE, "a date as year-month-day: 2026-11-25"),
    (r"[+-]?\d+,\d+$", "a number with a point: 0.5"),
    (r"[+-]?0\d+$", "a number without zeros before it"),
    (r"[+-]?(?:\.\d+|\d+\.)$", "a number with digits on both sides of the point: 0.5"),
    (r"[+-]?\d[\d._]*\s*[^\d\s._,:-]+$", "a number alone, without its unit"),
    (r"[“”„‟«»‘’‚]", 'a text in straight quotes: "…"'),
    (r"(?i:true|false|yes|no|on|off)$", "true or false, in small letters"),
    (r'"[^"]*\\', "a text in single quotes where it holds a backslash: 'C:\\…'"),
    (r'["\']', "a text whose quotes are closed on the same line, and nothing after it"),
    (r"\{", "a table { key = value, key = value } on one line, and nothing after it"),
    (r"\[", "an array [ value, value ] with commas between its values and a bracket at its end"),
    (r"[^\W\d]", 'a text in quotes: "…"'),
)
"""What a value looks like and what is allowed in its place; the first that matches is said."""
_LAST_PLAIN: Final = 9
"""Of these so many are about numbers, dates and times."""
_CLOSED: Final[dict[str, str]] = {"[": "]", "{": "}"}
_TWICE: Final = ("Cannot overwrite", "Cannot declare", "Cannot mutate", "Cannot redefine", "Duplicate inline")
_UNCLOSED: Final = ("Unclosed", "Unterminated", 'Expected \'"""\'', "Expected \"'''\"", "Illegal character '\\n'")


def syntax_fault(text: str, error: Exception) -> tuple[Fault, str | None]:
    """The fault of a text that the parser refuses with `error`, and the text without it, so that reading can go on.

    The second is the same text with one line blank, or None where it is not one line by itself that is at fault. Line
    ends in `text` are single newlines.
    """
    if isinstance(error, RecursionError):
        return Fault(None, "syntax", "found brackets nested too deeply, allowed is a few levels of them"), None
    if isinstance(error, LongKey):
        return _long_key(text, error.offset), None
    what, offset = _complaint(text, error)
    if odd := _odd_space(text, offset):
        return odd
    positions = find_positions(text, _end_of_header(text, offset))
    line = positions.line_at(offset)
    if positions.inside is not None or (positions.last and positions.line_at(positions.last_at) == line):
        return _fault_at_key(text, what, offset, positions)
    return Fault(line, "syntax", _statement_message(what, text.split("\n")[line - 1].strip())), None


def _long_key(text: str, offset: int) -> Fault:
    line = text.count("\n", 0, offset) + 1
    allowed = f"a key of at most {MOST_KEY_PARTS} parts"
    return Fault(line, "syntax", f"found {_shown(_line_from(text, offset))}, allowed is {allowed}")


def _odd_space(text: str, offset: int) -> tuple[Fault, str] | None:
    """The fault of a space that is none to the parser, and the text with an ordinary one."""
    number = text.count("\n", 0, offset)
    lines = text.split("\n")
    found = without_odd_spaces(lines[number])
    if found is None:
        return None
    odd, lines[number] = found
    said = f"found {_name_of_space(odd)} ({printable(odd)}), allowed are ordinary spaces and tabs outside of texts"
    return Fault(number + 1, "syntax", said), "\n".join(lines)


def _name_of_space(odd: str) -> str:
    return "a non-breaking space" if odd == "\u00a0" else "an unusual space"


def _fault_at_key(text: str, what: str, offset: int, positions: Positions) -> tuple[Fault, str | None]:
    """The fault of a key given twice, or of a value that cannot be read or does not end."""
    path, at = positions.last, positions.last_at
    if what.startswith(_TWICE):
        line, first = positions.line_at(at), positions.line(path)
        if first != line and is_array_of_tables(path) and text[at - 1 : at] == "[" != text[at - 2 : at - 1]:
            header = ".".join(f"{part}" for part in path if isinstance(part, str))
            message = f"found [{header}] again (first on line {first}), allowed is [[{header}]] for each of them"
            return Fault(line, dotted(path, {}), message), None
        again = "a second time" if first == line else f"again (first on line {first})"
        return Fault(line, dotted(path, {}), f"found {again}, allowed is once"), _without_line(text, offset)
    if positions.inside is not None and (within := _fault_within(text, what, offset, positions.inside, positions)):
        return within, _without_line(text, at)
    unclosed = what.startswith(_UNCLOSED) or offset >= len(text.rstrip())
    if unclosed and positions.inside:
        path, at = positions.inside, positions.offsets[positions.inside]
    line = positions.line_at(at if unclosed else offset)
    value = _inline_table(what, text[offset : offset + 1]) or _value_message(text, at)
    return Fault(line, dotted(path, {}), value or _plain_message(what)), _without_line(text, at)


def _fault_within(text: str, what: str, offset: int, inside: KeyPath, positions: Positions) -> Fault | None:
    """The fault of a value within brackets or braces that is none, or of a comma missing there."""
    if not what.startswith(("Unclosed array", "Unclosed inline")) or _inline_table(what, text[offset : offset + 1]):
        return None
    piece = piece_at(text, offset)
    for pattern, allowed in _VALUE_HINTS[1:_LAST_PLAIN]:
        if re.match(pattern, piece) and "=" not in piece:
            path = positions.last if positions.last[: len(inside)] == inside else inside
            return Fault(positions.line_at(offset), dotted(path, {}), _said(piece, allowed))
    if missing := missing_comma(text, offset):
        at, found = missing
        return Fault(
            positions.line_at(at), dotted(inside, {}), f"found {found}, allowed is a comma after each but the last"
        )
    return None


def _said(value: str, allowed: str) -> str:
    if (meant := date_meant(value)) and allowed.startswith("a date as"):
        allowed = f"a date as year-month-day: {meant}"
    return f"found {_shown(value)}, allowed is {allowed}"


def _without_line(text: str, offset: int) -> str | None:
    """A text with the line of a key blank, None where a header stands there or its value goes on on the next line."""
    begin = text.rfind("\n", 0, offset) + 1
    line = _line_from(text, begin)
    value = _value_of(line)
    if not value or line.lstrip().startswith("[") or value.startswith(('"""', "'''")):
        return None
    if not value.endswith(_CLOSED.get(value[0], "")):
        return None
    return text[:begin] + text[begin + len(line) :]


def _complaint(text: str, error: Exception) -> tuple[str, int]:
    """What the parser says, and the offset it says it of."""
    what = str(error)
    place = _PLACE.search(what)
    if place is None:
        digits = _MOST_DIGITS.search(text)
        return "a number with too many digits", digits.start() if digits else len(text)
    what = what[: place.start()].rstrip()
    if place.group(1) is None:
        return what, len(text.rstrip())
    lines_before = text.split("\n", int(place.group(1)) - 1)[:-1]
    return what, sum(len(line) + 1 for line in lines_before) + int(place.group(2)) - 1


def _end_of_header(text: str, offset: int) -> int:
    """The offset up to which to look for keys: a header is refused before its last bracket, and is looked at whole."""
    begin = text.rfind("\n", 0, offset) + 1
    if not text[begin:offset].lstrip(" \t").startswith("["):
        return offset
    end = text.find("\n", offset)
    return len(text) if end < 0 else end


def _inline_table(what: str, sign: str) -> str | None:
    """What ends a table in braces too early, and what is allowed there."""
    if sign not in ("\n", "}", "#") or not what.startswith(("Invalid initial character", "Unclosed inline")):
        return None
    found = "a comma before the closing brace" if sign == "}" else "a line break within braces"
    return f"found {found}, allowed is a table {{ key = value, key = value }} on one line"


def _value_message(text: str, key_at: int) -> str | None:
    """What stands in the place of the value of a key, and what is allowed there."""
    value = _value_of(_line_from(text, key_at))
    if value is None:
        return None
    if text[text.rfind("\n", 0, key_at) + 1 : key_at].strip() and value[:1] not in ('"', "'", "[", "{"):
        value = _END_WITHIN.split(value)[0].rstrip()  # the key stands within braces, which end after its value
    for pattern, allowed in _VALUE_HINTS:
        if re.match(pattern, value):
            return _said(value, allowed)
    return None


def _value_of(line: str) -> str | None:
    """What stands after the equals sign of a line, up to a remark; None without an equals sign."""
    _, equals, value = line.partition("=")
    return value.partition("#")[0].strip()[:_LONGEST_VALUE] if equals else None


def _line_from(text: str, offset: int) -> str:
    end = text.find("\n", offset)
    return text[offset:] if end < 0 else text[offset:end]


def _statement_message(what: str, line: str) -> str:
    """What stands in the place of a key and its value, or of a header."""
    if line.startswith("["):
        return f"found {_shown(line)}, allowed is a header in brackets, as in [[racks.tanks]]"
    if not line:
        return _plain_message(what)
    return f"found {_shown(line)}, allowed is a key with its value, as in volume = 54"


def _plain_message(what: str) -> str:
    return f"found what is no TOML ({what}), allowed is TOML 1.0"


def _shown(text: str) -> str:
    """A piece of the file as it stands there."""
    if not text:
        return "nothing"
    return printable(text if len(text) <= LONGEST else f"{text[:LONGEST]}…")
