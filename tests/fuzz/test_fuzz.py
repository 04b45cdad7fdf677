"""A short run of every fuzzer, and that each would notice; long runs come by command (`python -m tests.fuzz`)."""

from __future__ import annotations

import json
import sys
from itertools import islice

import pytest

from tests.fuzz import imports, problems, rooms, words
from tests.fuzz.limits import Subject, tried
from tests.fuzz.subjects import SUBJECTS

RUNS = {"rooms": 150, "problems": 40, "imports": 40, "words": 40}


@pytest.mark.parametrize("name", SUBJECTS)
def test_hostile_input_is_taken_or_refused_within_its_limits(name: str) -> None:
    subject = SUBJECTS[name]
    faults = [(given, tried(subject, given)) for given in islice(subject.inputs(20261125), RUNS[name])]
    assert [(given, fault) for given, fault in faults if fault] == []


def test_some_inputs_are_taken_and_some_refused() -> None:
    """Else a fuzzer would try one of both only."""
    assert {rooms.is_room(given) for given in islice(rooms.documents(2), 120)} == {True, False}
    assert {problems.is_problem(given) for given in islice(problems.documents(3), 60)} == {True, False}
    assert {imports.is_taken(given) for given in islice(imports.exports(2), 60)} == {True, False}


def test_an_exception_that_is_not_meant_is_noticed() -> None:
    def fails(given: str) -> None:
        raise OverflowError(f"{len(given)} characters")

    assert tried(Subject(rooms.documents, fails), "abc") == "OverflowError: 3 characters"


def test_an_input_that_takes_too_long_is_noticed_also_where_all_exceptions_are_caught() -> None:
    def never_ends(_given: str) -> None:
        while True:
            try:
                while True:
                    pass
            except Exception:
                continue

    assert tried(Subject(rooms.documents, never_ends), "abc", seconds=0.05) == "TooSlow: more than 0.05 s"


def test_a_plan_that_breaks_a_rule_is_noticed(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(problems, "check", lambda _document: ["a rule"])
    assert problems.fault_of(json.dumps(problems.beginning())) == "the plan breaks a rule: a rule"


def test_an_import_that_is_unsound_or_left_behind_is_noticed(monkeypatch: pytest.MonkeyPatch) -> None:
    lines = list(imports.beginning())
    assert imports.fault_of(lines) is None
    with monkeypatch.context() as changed:
        changed.setattr(imports, "verify", lambda _path: ["a broken chain"])
        assert imports.fault_of(lines) == "taken, and then unsound: a broken chain"
    monkeypatch.setattr(imports, "_import", lambda folder, _lines: (folder / "left.db").write_text("") or "refused")
    assert imports.fault_of(lines) == "a refused import left ['left.db']"


@pytest.mark.parametrize(
    ("code", "printed", "fault"),
    [
        (1, "", "exit code 1"),
        (0, "\x1b[2J", "steers the terminal by '\\x1b'"),
        (2, "", "exit code 2 without a word"),
        (0, "Traceback (most recent call last)", "a traceback"),
    ],
)
def test_a_command_that_ends_wrongly_is_noticed(
    code: int, printed: str, fault: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    def ends(_words: list[str]) -> int:
        sys.stderr.write(f"{printed}\n")
        return code

    monkeypatch.setattr(words, "run", ends)
    assert words.fault_of(["flags", "FOLDER/room.toml"]) == fault
