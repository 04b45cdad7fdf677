"""Chores as a room file may describe them."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from schedules.room.chores import Condition, Each, Order
from schedules.room_file.schema.base import Spec
from schedules.room_file.schema.chore_templates import TemplateName
from schedules.room_file.schema.scalars import Allowed, among
from schedules.room_file.schema.values import Day, Flag, Id, Many, Minutes, Name, RuleText, at_most

Days = Annotated[int, Field(ge=1, le=365), Allowed("a whole number of days from 1 to 365")]
Window = Annotated[int, Field(ge=1, le=31), Allowed("a whole number of days from 1 to 31")]
EachName = Annotated[Each, among(Each)]
OrderName = Annotated[Order, among(Order)]
ConditionName = Annotated[Condition, among(Condition)]
Template = Annotated[TemplateName, among(TemplateName)]


class ChoreSpec(Spec):
    """`[[chores]]`: what is done beside feeding. With `template` all but `from` has a usual value."""

    id: Id | None = None
    template: Template | None = None
    name: Name | None = None
    each: EachName | None = None
    tanks: Annotated[Many[Id], at_most(5000)] | None = None
    racks: Annotated[Many[Id], at_most(500)] | None = None
    quarantine: Flag | None = None
    first: Day | None = Field(default=None, alias="from")
    rule: RuleText | None = None
    every: Days | None = None
    when: ConditionName | None = None
    days: Days | None = None
    within: Window | None = None
    minutes: Minutes | None = None
    by: Annotated[Many[Name], at_most(50)] = ()
    round: Id | None = None
    walk: OrderName | None = None
    best_before: Day | None = None
    note: Name | None = None
