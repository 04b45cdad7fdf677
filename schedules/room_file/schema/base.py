"""The base of every table of a room file: strict, frozen, no key but its own."""

from __future__ import annotations

from pydantic import BaseModel, ConfigDict


class Spec(BaseModel):
    """A table of the room file: no key but its own, no value bent into another type, no NaN and no infinity."""

    model_config = ConfigDict(strict=True, extra="forbid", frozen=True, allow_inf_nan=False, defer_build=True)
