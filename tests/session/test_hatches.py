"""The hatches of about the last year in a session: which are listed, and what each began under."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path

import pytest

from schedules.ledger import Sighting
from schedules.session.hatches import regrouped, side_by_side
from schedules.session.session import Session
from tests.tui.rooms import TODAY, day, make_session


@pytest.fixture(name="session")
def _session(tmp_path: Path) -> Iterator[Session]:
    session = make_session(tmp_path)
    yield session
    session.ledger.close()


def hatched(session: Session, tank: str, ago: int, line: str | None = None) -> None:
    session.ledger.append(
        [Sighting(tank, "hatch", "shrimplet", 20, True, line=line)],
        day=day(ago),
        at=session.clock() - timedelta(days=ago),
        by="Mara",
    )


def test_hatches_of_four_hundred_days_are_listed_oldest_first(session: Session) -> None:
    for tank, ago in (("a3", 401), ("a2", 400), ("a1", 90)):
        hatched(session, tank, ago)
    found = side_by_side(session, "tank")

    assert [(cohort.tank, (TODAY - cohort.day).days) for cohort in found.cohorts] == [
        ("a2", 400),
        ("a1", 90),
        ("b1", 46),
    ]
    assert [group.name for group in found.groups] == ["a1", "a2", "b1"]
    assert found.by == "tank"


def test_each_hatch_has_the_line_it_was_seen_with_or_that_of_its_tank(session: Session) -> None:
    hatched(session, "a1", 90, "Slate")
    hatched(session, "a2", 80)
    found = side_by_side(session, "line")

    assert [cohort.line for cohort in found.cohorts] == ["Slate", None, "Amber"]
    assert [group.name for group in found.groups] == ["", "Amber", "Slate"]


def test_what_a_hatch_began_under_is_read_back_to_its_day(session: Session) -> None:
    session.read_water("a1", {"temperature": 22.5}, day=day(85))
    session.read_water("a1", {"temperature": 25.5}, day=day(70))
    hatched(session, "a1", 80)
    hatched(session, "b1", 60)
    found = side_by_side(session, "temperature")

    first, second, third = found.cohorts
    assert found.began[first.origin].celsius == 25.5
    assert set(found.began) == {first.origin, second.origin, third.origin}
    assert [group.name for group in found.groups] == ["24_to_26", "unmeasured"]


def test_grouping_by_something_else_keeps_the_hatches(session: Session) -> None:
    hatched(session, "a1", 90)
    found = side_by_side(session, "tank")
    by_month = regrouped(found, "month")

    assert (by_month.by, by_month.cohorts, by_month.began) == ("month", found.cohorts, found.began)
    assert [group.name for group in by_month.groups] == ["2026-08", "2026-10"]


def test_where_nothing_hatched_nothing_is_listed(session: Session) -> None:
    session.clock.now += timedelta(days=500)  # type: ignore[attr-defined]
    later = Session(session.file_room, session.ledger, session.clock, "Mara", posts="nothing")
    found = side_by_side(later, "tank")

    assert (found.cohorts, found.groups, dict(found.began)) == ((), (), {})
