"""Printing: data to standard output, what went wrong to standard error. Plain text without colour or drawing."""

from __future__ import annotations

import json
import sys
from typing import Any


def say(text: str = "") -> None:
    """One line of data."""
    sys.stdout.write(text + "\n")


def say_json(document: Any) -> None:
    """A JSON document, indented, in the order it was built."""
    json.dump(document, sys.stdout, indent=1, ensure_ascii=False)
    sys.stdout.write("\n")


def warn(text: str) -> None:
    """One line about what went wrong."""
    sys.stderr.write(text + "\n")
