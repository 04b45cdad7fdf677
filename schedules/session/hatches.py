"""What became of the hatches of about the last year, side by side, with how each was fed at first."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import timedelta
from typing import Final

from schedules.history.life import life_of
from schedules.ledger.entries.animals.sighting import SIGHTING
from schedules.review.lines import lines_of_hatches
from schedules.review.survival import By, Cohort, Grouped, cohorts_of, grouped
from schedules.review.survival.feeding import FineFeed, fine_feed
from schedules.session.session import Session

DAYS_BACK: Final = 400
"""Hatches of about the last year are listed."""
FED_DAYS: Final = (14, 30)
Fed = Mapping[int, FineFeed]


@dataclass(frozen=True, slots=True)
class SideBySide:
    """The cohorts, oldest first, their groups, and how each was fed in its first 14 and 30 days, by origin."""

    by: By
    cohorts: tuple[Cohort, ...]
    groups: tuple[Grouped, ...]
    first: Fed
    whole: Fed


def side_by_side(session: Session, by: By) -> SideBySide:
    """The hatches of about the last year, grouped; reads the whole life from the ledger."""
    life = life_of(session.ledger, session.file_room)
    lines = lines_of_hatches(session.ledger.of_kind(SIGHTING.name), session.file_room)
    found = cohorts_of(life, session.day, session.day - timedelta(days=DAYS_BACK))
    cohorts = tuple(replace(cohort, line=lines.get(cohort.origin)) for cohort in found)
    first, whole = (_fed(session, cohorts, days) for days in FED_DAYS)
    return SideBySide(by, cohorts, grouped(cohorts, by, first), first, whole)


def _fed(session: Session, cohorts: Sequence[Cohort], days: int) -> Fed:
    """How each cohort was fed in its first days."""
    if not cohorts:
        return {}
    history = session.reaching(cohorts[0].day)
    return {cohort.origin: fine_feed(session.room, history, cohort.tank, cohort.day, days) for cohort in cohorts}
