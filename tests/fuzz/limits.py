"""What every input has to keep to: no exception that is not meant, a time, a memory. The system sets both."""

from __future__ import annotations

import resource
import signal
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from types import FrameType
from typing import Any, Final

MOST_SECONDS: Final = 10.0
"""Of processor time: what else the machine does changes nothing."""
MOST_BYTES: Final = 2 * 1024**3


@dataclass(frozen=True)
class Subject:
    """Something that takes input: inputs without end from a seed, and what is wrong with how one was taken."""

    inputs: Callable[[int], Iterator[Any]]
    fault_of: Callable[[Any], str | None]


class TooSlow(BaseException):
    """An input took more processor time than `MOST_SECONDS`. No `Exception`: nobody but the fuzzer may catch it."""


def tried(subject: Subject, given: Any, seconds: float = MOST_SECONDS) -> str | None:
    """What is wrong with how an input was taken, None where nothing is; whatever is raised is wrong."""
    before = signal.signal(signal.SIGPROF, _too_slow)
    signal.setitimer(signal.ITIMER_PROF, seconds)
    try:
        return subject.fault_of(given)
    except TooSlow:
        return f"TooSlow: more than {seconds:g} s"
    except Exception as error:
        return f"{type(error).__name__}: {error}"[:300]
    finally:
        signal.setitimer(signal.ITIMER_PROF, 0)
        signal.signal(signal.SIGPROF, before)


def limit_memory() -> None:
    """Have this process fail beyond `MOST_BYTES`."""
    resource.setrlimit(resource.RLIMIT_AS, (MOST_BYTES, MOST_BYTES))


def _too_slow(_signal: int, _frame: FrameType | None) -> None:
    raise TooSlow
