"""The extra `browser`: what to install where it is missing, and faults of passcodes as faults of the command."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

from tui.cli.fault import CommandFault


@contextmanager
def needs_browser() -> Iterator[None]:
    """Turn a missing library into a fault that says what to install."""
    try:
        yield
    except ModuleNotFoundError as missing:
        raise CommandFault(
            f"the browser needs the extra `browser` ({missing.name} is missing): pip install 'rackround[browser]'"
        ) from None
