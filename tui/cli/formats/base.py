"""What all documents share: keys are all there and no others, values are of the type named and no other."""

from __future__ import annotations

from datetime import date
from typing import Annotated

from pydantic import BaseModel, ConfigDict, Field


class Part(BaseModel):
    """A part of a document. The text below a key is its description in the schema."""

    model_config = ConfigDict(extra="forbid", strict=True, use_attribute_docstrings=True)


Day = Annotated[date, Field(description="a day of the room's calendar, YYYY-MM-DD")]
Count = Annotated[int, Field(ge=0)]
Amount = Annotated[float, Field(ge=0)]
Share = Annotated[float, Field(ge=0, le=1)]


class Heads(Part):
    """How many animals: a number counted, or a size class with its range."""

    heads: Count
    exact: bool
    """whether they were counted"""
    least: Count
    most: Count | None
    """null where there is no upper limit"""
