"""All that is fuzzed, by name."""

from __future__ import annotations

from typing import Final

from tests.fuzz import imports, problems, rooms, words
from tests.fuzz.limits import Subject

SUBJECTS: Final = {
    "rooms": Subject(rooms.documents, rooms.fault_of),
    "problems": Subject(problems.documents, problems.fault_of),
    "imports": Subject(imports.exports, imports.fault_of),
    "words": Subject(words.lines, words.fault_of),
}
