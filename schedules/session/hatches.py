"""What became of the hatches of about the last year, side by side, with the conditions each began under."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import timedelta
from typing import Final

from schedules.history.life import life_of, room_as_of
from schedules.ledger.entries.animals.sighting import SIGHTING
from schedules.review.lines import lines_of_hatches
from schedules.review.survival import By, Cohort, Grouped, cohorts_of, grouped
from schedules.review.survival.conditions import Conditions, conditions_of
from schedules.session.session import Session

DAYS_BACK: Final = 400
"""Hatches of about the last year are listed."""


@dataclass(frozen=True, slots=True)
class SideBySide:
    """The cohorts, oldest first, their groups, and the conditions each began under, by origin."""

    by: By
    cohorts: tuple[Cohort, ...]
    groups: tuple[Grouped, ...]
    began: Mapping[int, Conditions]


def side_by_side(session: Session, by: By) -> SideBySide:
    """The hatches of about the last year, grouped; reads the whole life from the ledger."""
    life = life_of(session.ledger, session.file_room)
    lines = lines_of_hatches(session.ledger.of_kind(SIGHTING.name), session.file_room)
    found = cohorts_of(life, session.day, session.day - timedelta(days=DAYS_BACK))
    cohorts = tuple(replace(cohort, line=lines.get(cohort.origin)) for cohort in found)
    began: dict[int, Conditions] = {}
    if cohorts:
        room, history = room_as_of(session.file_room, life, session.day), session.reaching(cohorts[0].day)
        began = {cohort.origin: conditions_of(room, history, cohort) for cohort in cohorts}
    return SideBySide(by, cohorts, grouped(cohorts, by, began), began)


def regrouped(found: SideBySide, by: By) -> SideBySide:
    """The same cohorts grouped by something else, without reading anything again."""
    return replace(found, by=by, groups=grouped(found.cohorts, by, found.began))
