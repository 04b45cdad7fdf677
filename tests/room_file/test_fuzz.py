"""A short run of the fuzzer, and that it would notice; long runs come by command (`python -m tests.room_file.fuzz`)."""

from __future__ import annotations

import signal
from collections.abc import Iterator
from itertools import islice

import pytest

from tests.room_file import fuzz


@pytest.fixture(autouse=True)
def alarm() -> Iterator[None]:
    before = signal.signal(signal.SIGALRM, fuzz._too_slow)
    yield
    signal.signal(signal.SIGALRM, before)


def test_mutated_rooms_are_read_or_refused_within_their_limits() -> None:
    found = {text: fault for text in islice(fuzz.documents(seed=20261125), 150) if (fault := fuzz.fault_of(text))}
    assert found == {}


def test_some_mutated_rooms_are_still_rooms() -> None:
    """Else the fuzzer would try the refusals only."""
    texts = list(islice(fuzz.documents(seed=2), 120))
    assert any(fuzz.is_room(text) for text in texts)
    assert not all(fuzz.is_room(text) for text in texts)


def test_an_exception_that_is_no_list_of_faults_is_noticed(monkeypatch: pytest.MonkeyPatch) -> None:
    def fails(text: str, name: str) -> None:
        raise OverflowError(f"{name} of {len(text)} characters")

    monkeypatch.setattr(fuzz, "load_room_text", fails)
    assert fuzz.fault_of("abc") == "OverflowError: room.toml of 3 characters"


def test_a_document_that_takes_too_long_is_noticed(monkeypatch: pytest.MonkeyPatch) -> None:
    def never_ends(_text: str, _name: str) -> None:
        while True:
            pass

    monkeypatch.setattr(fuzz, "MOST_SECONDS", 0.05)
    monkeypatch.setattr(fuzz, "load_room_text", never_ends)
    assert fuzz.fault_of("abc") == "TooSlow: more than 0.05 s"
