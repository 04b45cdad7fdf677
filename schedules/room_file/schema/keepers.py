"""Keepers and rounds as a room file may describe them."""

from __future__ import annotations

from typing import Annotated, Any

from pydantic import model_validator

from schedules.room_file.schema.base import Spec
from schedules.room_file.schema.values import Day, FreeDay, Id, Many, Name, Phone, RuleText, TimeOfDay, at_most


class KeeperSpec(Spec):
    """`[[keepers]]`, or just a name in `keepers = ["Ada"]`."""

    name: Name
    phone: Phone | None = None
    days_off: Annotated[Many[FreeDay], at_most(200)] = ()
    off_rules: Annotated[Many[RuleText], at_most(20)] = ()
    off_from: Day | None = None

    @model_validator(mode="before")
    @classmethod
    def _just_a_name(cls, found: Any) -> Any:
        return {"name": found} if isinstance(found, str) else found


class RoundSpec(Spec):
    """`[[rounds]]`: one walk past the racks."""

    id: Id
    at: TimeOfDay
