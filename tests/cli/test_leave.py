"""`rackround leave` and `rackround returned`: the days away as a helper and the keeper live through them."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

import pytest

from schedules.ledger.stores.sqlite import open_ledger
from tests.cli.conftest import Rackround

AWAY = ("--from", "2026-11-27", "--to", "2026-12-06", "--helper", "Aunt Ida")
BACK = "2026-12-07T07:30"


@pytest.fixture(autouse=True)
def _past(rackround: Rackround) -> None:
    """Both feeds are known to both tanks, so that a helper may give them."""
    for tank in ("a1", "a2"):
        for feed in ("dust", "flake"):
            assert rackround("give", tank, feed, "--on", "2026-11-24", "--anyway").code == 0


def visits(rackround: Rackround, *words: str) -> list[dict[str, Any]]:
    found: list[dict[str, Any]] = rackround("leave", *AWAY, "--json", *words).data["visits"]
    return found


def missed(rackround: Rackround, now: str = BACK) -> set[tuple[str, str, str]]:
    found = rackround("missed", "--since", "2026-11-27", "--json", now=now).data["missed"]
    return {(each["date"], each["tank"], each["feed"]) for each in found}


def planned(rackround: Rackround) -> set[tuple[str, str, str]]:
    return {(day["date"], each["tank"], each["feed"]) for day in visits(rackround) for each in day["servings"]}


def entries(room: Path) -> list[Any]:
    ledger = open_ledger(room.with_suffix(".ledger.db"))
    try:
        return list(ledger.everything())
    finally:
        ledger.close()


def test_the_plan_is_printed_with_its_cost_and_posts_nothing(rackround: Rackround) -> None:
    answer = rackround("leave", *AWAY)

    assert (answer.code, answer.err) == (0, "")
    assert "Leave plan for Aunt Ida, Fri 27 Nov to Sun 6 Dec" in answer.out
    assert "fine feed for the young, 2 tanks: on " in answer.out
    assert "not accepted yet: --post makes it what is due on these days" in answer.out
    assert rackround("leave", *AWAY, "--json").data["posted"] is False
    assert missed(rackround) != planned(rackround)


def test_powder_without_a_drawing_feed_is_counted_visit_by_visit(rackround: Rackround) -> None:
    """Both tanks have shrimplets and adults; a staple beside the powder draws these off."""
    data = rackround("leave", *AWAY, "--json").data
    given: dict[tuple[str, str], set[str]] = {}
    for day in data["visits"]:
        for each in day["servings"]:
            given.setdefault((each["tank"], day["date"]), set()).add(each["feed"])
    alone = {tank: sum(feeds == {"dust"} for (of, _), feeds in given.items() if of == tank) for tank in ("a1", "a2")}

    assert sum(alone.values()) > 0
    assert {each["tank"]: each["visits"] for each in data["cost"]["undrawn"]} == {k: n for k, n in alone.items() if n}
    said = rackround("leave", *AWAY).out
    assert f"powder with nothing beside it that draws the adults off: on {sum(alone.values())} visits" in said


def test_a_wait_longer_than_the_clock_allows_is_said(rackround: Rackround, room: Path) -> None:
    """Fine feed daily, by this room's own clock; the helper comes every other day."""
    assert "longer than allowed (1 day)" not in rackround("leave", *AWAY).out
    text = room.read_text("utf-8").replace("[[feeds]]", "[clocks.fine]\nmax_gap = 1\n\n[[feeds]]", 1)
    room.write_text(text, encoding="utf-8")

    said = rackround("leave", *AWAY).out

    assert re.search(
        r"fine feed for the young.*\n +longest wait: 2 days.*\n +longer than allowed \(1 day\): a1, a2", said
    )


@pytest.mark.parametrize(
    ("grams", "said"),
    [
        (None, "not weighed: look whether there is enough"),
        (50, "in all, enough on the shelf: about 50 g"),
        (0.05, "NOT ENOUGH on the shelf"),
    ],
)
def test_what_must_be_ready_says_whether_the_shelf_has_enough(
    rackround: Rackround, grams: float | None, said: str
) -> None:
    if grams is not None:
        rackround("weighed", "dust", str(grams))

    line = next(line for line in rackround("leave", *AWAY).out.splitlines() if "[ ] Fine dust" in line)

    assert re.match(r" *\[ \] Fine dust: [\d.]+ m?g in all, ", line)
    assert said in line


def test_an_accepted_plan_is_what_was_due_and_what_was_missed(rackround: Rackround) -> None:
    due = planned(rackround)
    answer = rackround("leave", *AWAY, "--post")

    assert answer.code == 0
    assert "leave plan for Aunt Ida holds from Fri 27 Nov to Sun 6 Dec" in answer.out
    assert missed(rackround) == due


def test_a_leave_day_opened_on_the_spot_shows_the_leave_plan(rackround: Rackround) -> None:
    """Opening posts that day's normal plan; the leave plan stands for it all the same."""
    due = planned(rackround)
    rackround("leave", *AWAY, "--post")
    day = min(date for date, _, _ in due)

    stops = rackround("round", "--json", now=f"{day}T07:30").data["stops"]

    shown = {(day, stop["tank"], each["feed"]) for stop in stops for each in stop["servings"]}
    assert shown == {each for each in due if each[0] == day}


def test_all_as_planned_but_what_is_named_is_entered_in_one_command(rackround: Rackround, room: Path) -> None:
    due = planned(rackround)
    days = sorted({date for date, _, _ in due})
    rackround("leave", *AWAY, "--post")
    seq = len(entries(room))

    answer = rackround(
        "returned", "--left", f"{days[1]}:a1", "--cloudy", f"{int(days[2][-2:])}:a2", "--left", days[3], now=BACK
    )

    assert (answer.code, answer.err) == (0, "")
    assert answer.out.startswith(f"entered for Aunt Ida, {len(days)} days: ")
    assert missed(rackround) == set()
    written = [(entry.day.isoformat(), entry.what, entry.by) for entry in entries(room)[seq:]]
    marks = [each for each in written if type(each[1]).__name__ in ("Served", "Skipped")]
    assert {by for _, _, by in marks} == {"Aunt Ida"}
    assert {(day, what.tank, what.feed) for day, what, _ in marks} == due
    skipped = {(day, what.tank, what.because.code) for day, what, _ in marks if type(what).__name__ == "Skipped"}
    here = {tank for day, tank, _ in due if day == days[3]}
    assert skipped == {
        (days[1], "a1", "left_out"),
        (days[2], "a2", "cloudy"),
        *((days[3], t, "left_out") for t in here),
    }
    lying = {(day, what.tank, what.leftovers) for day, what, _ in written if type(what).__name__ == "Observed"}
    assert lying == {(days[2], "a2", "most")}


def test_cloudy_lowers_what_the_tank_gets_of_what_lay_there(rackround: Rackround) -> None:
    """Most left halves the level of a feed (`ration.level`): a later serving is smaller than without it."""
    due = planned(rackround)
    last = max(day for day, tank, _ in due if tank == "a1")
    rackround("leave", *AWAY, "--post")
    rackround("returned", "--cloudy", f"{last}:a1", now=BACK)

    found = rackround("plan", "--json", now=BACK).data["servings"]

    dust = {
        tank: max(each["amount_mg"] for each in found if (each["tank"], each["feed"]) == (tank, "dust"))
        for tank in ("a1", "a2")
    }
    assert dust["a1"] < dust["a2"]


def test_flags_do_not_blame_a_tank_for_what_the_leave_plan_left_out(rackround: Rackround) -> None:
    rackround("leave", *AWAY, "--post")
    rackround("returned", now="2026-12-06T20:00")

    kinds = {flag["kind"] for flag in rackround("flags", "--json", now="2026-12-06T20:00").data["flags"]}

    assert not kinds & {"no_fine_feed", "nothing_given", "missed"}


def test_a_visit_that_did_not_happen_is_flagged_all_the_same(rackround: Rackround) -> None:
    rackround("leave", *AWAY, "--post")

    kinds = {flag["kind"] for flag in rackround("flags", "--json", now="2026-12-03T20:00").data["flags"]}

    assert "no_fine_feed" in kinds


def test_a_newer_plan_replaces_an_earlier_one_on_its_days(rackround: Rackround) -> None:
    rackround("leave", *AWAY, "--post")
    shorter = ("--from", "2026-11-28", "--to", "2026-11-30", "--helper", "Uncle Ben", "--json", "--post")
    newer = {
        (day["date"], each["tank"], each["feed"])
        for day in rackround("leave", *shorter).data["visits"]
        for each in day["servings"]
    }

    assert {each for each in missed(rackround) if "2026-11-28" <= each[0] <= "2026-11-30"} == newer


def test_withdrawing_leaves_past_days_as_they_were(rackround: Rackround) -> None:
    due = planned(rackround)
    rackround("leave", *AWAY, "--post")

    answer = rackround("leave", "--withdraw", now="2026-12-01T09:00")

    assert answer.code == 0
    after = missed(rackround)
    assert {each for each in after if each[0] < "2026-12-01"} == {each for each in due if each[0] < "2026-12-01"}
    assert {each for each in after if each[0] >= "2026-12-01"} != {each for each in due if each[0] >= "2026-12-01"}


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("--from", "2026-11-20", "--to", "2026-12-01", "--helper", "Ida"), "--from 2026-11-20 lies behind"),
        (("--from", "2026-11-27", "--to", "2026-11-26", "--helper", "Ida"), "--to 2026-11-26 is not from"),
        (("--from", "2026-11-27", "--to", "2027-03-01", "--helper", "Ida"), "60 days at most"),
        (("--from", "2026-11-27", "--to", "2026-12-01"), "--helper is missing"),
        (("--from", "2026-11-27", "--to", "2026-12-01", "--helper", " \u0007 "), "--helper has no name"),
        (("--withdraw",), "no leave plan holds"),
        ((*AWAY, "--sheet", "sheet.txt"), "allowed is .pdf or .html"),
        ((*AWAY, "--sheet", "/no/such/folder/sheet.html"), "cannot write /no/such/folder/sheet.html"),
    ],
)
def test_what_makes_no_leave_plan_is_said_in_one_line(rackround: Rackround, words: tuple[str, ...], said: str) -> None:
    answer = rackround("leave", *words)

    assert answer.code == 2
    assert said in answer.err
    assert answer.err.count("\n") == 1


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("--left", "2026-12-30"), '"2026-12-30" is no day of an open visit'),
        (("--left", "99"), '"99" is no day of an open visit'),
        (("--left", "2026-11-28:zz"), 'no tank "zz" in this room'),
        (("--from", "2026-12-20"), "no leave plan holds on these days"),
    ],
)
def test_a_tick_that_fits_nowhere_records_nothing(
    rackround: Rackround, room: Path, words: tuple[str, ...], said: str
) -> None:
    rackround("leave", *AWAY, "--post")
    rackround("round", now=BACK)
    before = len(entries(room))

    answer = rackround("returned", *words, now=BACK)

    assert answer.code == 2
    assert said in answer.err
    assert len(entries(room)) == before


def test_what_the_helper_marked_on_the_spot_is_not_entered_twice(rackround: Rackround) -> None:
    due = planned(rackround)
    day, tank, feed = min(due)
    rackround("leave", *AWAY, "--post")
    assert rackround("give", tank, feed, "--by", "Aunt Ida", now=f"{day}T09:00").code == 0

    assert rackround("returned", now=BACK).code == 0
    assert missed(rackround) == set()
    assert rackround("returned", now=BACK).code == 2


def test_ticks_can_be_taken_back_day_by_day(rackround: Rackround) -> None:
    due = planned(rackround)
    rackround("leave", *AWAY, "--post")
    rackround("returned", now=BACK)

    for _ in sorted({day for day, _, _ in due}):
        assert rackround("undo", "--by", "Aunt Ida", now=BACK).code == 0

    assert missed(rackround) == due
