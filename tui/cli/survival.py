"""`rackround survival`: what became of each hatch, side by side."""

from __future__ import annotations

from argparse import Namespace
from collections.abc import Mapping, Sequence
from datetime import timedelta
from typing import Any, Final

from schedules.history.life import life_of
from schedules.review.survival import By, Cohort, Grouped, cohorts_of, grouped
from schedules.review.survival.cohorts import AGES
from schedules.review.survival.feeding import FineFeed, fine_feed
from schedules.review.survival.statistics import Share
from schedules.session.session import Session
from schedules.wording.survival import cohort_text, conclusion, group_text
from tui.cli.fault import OK
from tui.cli.out import say, say_json
from tui.cli.session import Options, open_session

DAYS_BACK: Final = 400
"""Hatches of about the last year are listed."""
FED_DAYS: Final = (14, 30)
Fed = Mapping[int, FineFeed]


def print_survival(options: Options, asked: Namespace) -> int:
    """Print the cohorts of about the last year and what can be concluded."""
    with open_session(options, "nothing") as session:
        life = life_of(session.ledger, session.file_room)
        cohorts = cohorts_of(life, session.day, session.day - timedelta(days=DAYS_BACK))
        first, whole = (_fed(session, cohorts, days) for days in FED_DAYS)
        groups = grouped(cohorts, asked.by_what, first)
        if asked.json:
            say_json(_document(cohorts, groups, first, whole, asked.by_what))
        elif not cohorts:
            say("no hatch of the last year is written down; `rackround saw ROOM.toml TANK hatch --about 30` does it")
        else:
            _print(cohorts, groups, first, asked)
    return OK


def _print(cohorts: Sequence[Cohort], groups: Sequence[Grouped], fed: Fed, asked: Namespace) -> None:
    for cohort in cohorts:
        say(cohort_text(cohort, fed[cohort.origin]))
    say()
    for group in groups:
        say(group_text(group, asked.by_what))
    say()
    say(conclusion(groups, asked.by_what))


def _fed(session: Session, cohorts: Sequence[Cohort], days: int) -> Fed:
    """How each cohort was fed in its first days."""
    if not cohorts:
        return {}
    history = session.reaching(cohorts[0].day)
    return {cohort.origin: fine_feed(session.room, history, cohort.tank, cohort.day, days) for cohort in cohorts}


def _document(cohorts: Sequence[Cohort], groups: Sequence[Grouped], first: Fed, whole: Fed, by: By) -> dict[str, Any]:
    return {
        "format": "rackround-survival/1",
        "by": by,
        "cohorts": [_cohort_json(each, (first[each.origin], whole[each.origin])) for each in cohorts],
        "groups": [_group_json(each) for each in groups],
        "conclusion": conclusion(groups, by),
    }


def _cohort_json(cohort: Cohort, fed: tuple[FineFeed, ...]) -> dict[str, Any]:
    low, high = cohort.born.range
    return {
        "tank": cohort.tank,
        "date": cohort.day.isoformat(),
        "line": cohort.line,
        "born": {"heads": cohort.born.number, "exact": cohort.born.exact, "least": low, "most": high},
        "survival": {str(age): _share_json(cohort.survival(age)) for age in AGES},
        "fine_feed": {str(days): _fed_json(each) for days, each in zip(FED_DAYS, fed, strict=True)},
    }


def _fed_json(fed: FineFeed) -> dict[str, Any]:
    return {
        "days": fed.days,
        "planned": fed.planned,
        "given": fed.given,
        "share": None if fed.share is None else round(fed.share, 4),
        "days_without": fed.without,
        "days_missed": fed.missed,
    }


def _group_json(group: Grouped) -> dict[str, Any]:
    return {
        "name": group.name,
        "cohorts": group.cohorts,
        "born": group.born,
        "few": group.few,
        "counted": {str(age): count for age, count in group.counted.items()},
        "survival": {str(age): _share_json(share) for age, share in group.survival.items()},
        "kaplan_meier": {str(age): round(share, 4) for age, share in group.curve.items()},
    }


def _share_json(share: Share | None) -> dict[str, float] | None:
    if share is None:
        return None
    return {"share": round(share.share, 4), "low": round(share.low, 4), "high": round(share.high, 4)}
