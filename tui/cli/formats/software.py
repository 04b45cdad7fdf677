"""What `doctor` prints."""

from __future__ import annotations

from typing import Literal

from tui.cli.formats.base import Part


class Finding(Part):
    """One thing that was looked at."""

    about: str
    state: Literal["good", "look", "fault"]
    """`look` is worth a look and stops nothing"""
    found: str


class Doctor(Part):
    """`rackround doctor --json`: what is installed, where things lie, and whether a room and its ledger are sound."""

    format: Literal["rackround-doctor/1"]
    findings: list[Finding]
