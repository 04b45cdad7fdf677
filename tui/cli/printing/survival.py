"""`rackround survival`: what became of each hatch, side by side."""

from __future__ import annotations

from argparse import Namespace
from typing import Any

from schedules.review.survival import Cohort, Grouped
from schedules.review.survival.cohorts import AGES
from schedules.review.survival.conditions import Conditions
from schedules.review.survival.feeding import FineFeed
from schedules.review.survival.statistics import Share
from schedules.session.hatches import SideBySide, side_by_side
from schedules.wording.animals.survival import cohort_text, conclusion, group_text
from tui.cli.fault import OK
from tui.cli.options import Options
from tui.cli.out import say, say_json
from tui.cli.session import open_session


def print_survival(options: Options, asked: Namespace) -> int:
    """Print the cohorts of about the last year and what can be concluded."""
    with open_session(options, "nothing") as session:
        found = side_by_side(session, asked.by_what)
        if asked.json:
            say_json(_document(found))
        elif not found.cohorts:
            say("no hatch of the last year is written down; `rackround saw ROOM.toml TANK hatch --about 30` does it")
        else:
            _print(found)
    return OK


def _print(found: SideBySide) -> None:
    for cohort in found.cohorts:
        say(cohort_text(cohort, found.began[cohort.origin]))
    say()
    for group in found.groups:
        say(group_text(group, found.by))
    say()
    say(conclusion(found.groups, found.by))


def _document(found: SideBySide) -> dict[str, Any]:
    return {
        "format": "rackround-survival/1",
        "by": found.by,
        "cohorts": [_cohort_json(each, found.began[each.origin]) for each in found.cohorts],
        "groups": [_group_json(each) for each in found.groups],
        "conclusion": conclusion(found.groups, found.by),
    }


def _cohort_json(cohort: Cohort, began: Conditions) -> dict[str, Any]:
    low, high = cohort.born.range
    return {
        "tank": cohort.tank,
        "date": cohort.day.isoformat(),
        "line": cohort.line,
        "born": {"heads": cohort.born.number, "exact": cohort.born.exact, "least": low, "most": high},
        "survival": {str(age): _share_json(cohort.survival(age)) for age in AGES},
        "fine_feed": {str(days): _fed_json(fed) for days, fed in began.fed.items()},
        "missed_rounds": began.missed_rounds,
        "flags": began.flags,
        "temperature": None if began.celsius is None else round(began.celsius, 2),
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
        "fine_feed": {str(days): _fed_json(fed) for days, fed in group.began.fed.items()},
        "missed_rounds": group.began.missed_rounds,
        "flags": group.began.flags,
    }


def _share_json(share: Share | None) -> dict[str, float] | None:
    if share is None:
        return None
    return {"share": round(share.share, 4), "low": round(share.low, 4), "high": round(share.high, 4)}
