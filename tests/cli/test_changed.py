"""What was different in a tank and its rack before animals died."""

from __future__ import annotations

from typing import Any, get_args

import pytest

from schedules.review.survival import By
from tests.cli.conftest import Rackround
from tui.cli.parser import COHORTS_BY


def test_what_troubled_tanks_have_in_common_comes_first(rackround: Rackround) -> None:
    for tank in ("a1", "a2"):
        rackround("give", tank, "flake", now="2026-11-23T07:30")
        rackround("saw", tank, "dead", "--heads", "2", now="2026-11-24T07:30")
    rackround("note", "a1", "new heater", now="2026-11-24T07:40")

    found: list[dict[str, Any]] = rackround("changed", "a1", "--json").data["differences"]
    told = [(each["kind"], each["tank"], each["what"], each["shared"]) for each in found]
    assert told[:2] == [("dead", "a1", None, 2), ("dead", "a2", None, 2)]
    assert ("new_feed", "a1", "flake", 2) in told and ("new_feed", "a2", "flake", 2) in told
    assert told[-1] == ("note", "a1", None, 1)
    lines = rackround("changed", "a1").out.splitlines()
    assert lines[0] == "a1 Upper [left] one and its rack, the last 14 days"
    assert any("Pressed flake given to a1" in line and line.endswith("as in 2 tanks with trouble") for line in lines)


def test_newcomers_missed_servings_and_another_keeper_are_told(rackround: Rackround) -> None:
    rackround("give", "a1", "dust", "--by", "Mara", now="2026-11-05T07:30")
    rackround("round", now="2026-11-23T07:30")
    rackround("give", "a1", "dust", "--by", "Ole", now="2026-11-24T07:30")
    rackround("saw", "a2", "moved", "--heads", "5", "--to", "a1", now="2026-11-24T07:30")

    found = rackround("changed", "a1", "--json").data["differences"]
    told = {(each["kind"], each["tank"], each["what"]) for each in found}
    assert ("missed", "a1", "dust") in told
    assert ("keeper", None, "Ole") in told
    assert ("arrived", "a1", None) in told


def test_days_further_back_are_left_out(rackround: Rackround) -> None:
    rackround("saw", "a1", "dead", "--heads", "2", now="2026-11-20T07:30")
    kinds = [
        [each["kind"] for each in rackround("changed", "a1", "--json", "--days", days).data["differences"]]
        for days in ("3", "10")
    ]
    assert ("dead" in kinds[0], "dead" in kinds[1]) == (False, True)


@pytest.mark.parametrize("by", COHORTS_BY)
def test_survival_is_printed_by_any_of_its_groups(by: str, rackround: Rackround) -> None:
    assert "no hatch of the last year" in rackround("survival", "--by", by).out
    rackround("saw", "a1", "hatch", "--heads", "40", "--line", "dark", now="2026-09-20T07:30")
    rackround("saw", "a1", "count", "--heads", "0", "--stage", "juvenile", now="2026-11-20T07:30")

    data = rackround("survival", "--by", by, "--json").data
    names = {
        "tank": "a1",
        "line": "dark",
        "month": "2026-09",
        "season": "sep_to_nov",
        "temperature": "unmeasured",
        "feeding": "under_half",
    }
    assert [group["name"] for group in data["groups"]] == [names[by]]
    assert data["cohorts"][0]["survival"]["60"] == {"share": 0.0, "low": 0.0, "high": 0.0876}
    text = rackround("survival", "--by", by).out
    assert "a1, Sun 20 Sep 2026: 40 hatched, line dark. Alive at 60 days 0 % (0 % to 9 %)." in text
    assert text.splitlines()[-1].startswith("Nothing can be concluded yet")
    assert rackround("give", "a1", "dust", "--by", "Ole").code == 0


def test_the_command_offers_every_way_to_group_cohorts() -> None:
    assert get_args(By) == COHORTS_BY


def test_a_new_lot_given_in_several_troubled_tanks_is_named_among_what_they_share(rackround: Rackround) -> None:
    rackround("opened", "dust", "--lot", "K 6", now="2026-11-05T07:00")
    rackround("delivered", "dust", "50", "--lot", "K 7", now="2026-11-22T07:00")
    rackround("opened", "dust", "--lot", "K 7", now="2026-11-22T07:10")
    rackround("opened", "flake", "--lot", "F 1", now="2026-11-22T07:20")
    for tank in ("a1", "a2"):
        rackround("give", tank, "dust", now="2026-11-23T07:30")
        rackround("saw", tank, "dead", "--heads", "2", now="2026-11-24T07:30")
    rackround("give", "a1", "flake", now="2026-11-23T07:40")
    rackround("note", "a1", "new heater", now="2026-11-24T07:40")

    found: list[dict[str, Any]] = rackround("changed", "a1", "--json").data["differences"]

    opened = [(each["what"], each["lot"], each["tank"], each["shared"]) for each in found if each["kind"] == "opened"]
    assert opened == [("dust", "K 7", "a1", 2), ("dust", "K 7", "a2", 2), ("flake", "F 1", "a1", 1)]
    shared = [each["shared"] for each in found]
    assert shared == sorted(shared, reverse=True), "what several tanks share comes first"
    lines = [line for line in rackround("changed", "a1").out.splitlines() if "lot K 7" in line]
    assert len(lines) == 2 and all(line.endswith("as in 2 tanks with trouble") for line in lines)


def test_packs_of_different_lots_are_not_the_same_cause(rackround: Rackround) -> None:
    for tank, lot, day in (("a1", "K 7", "2026-11-20"), ("a2", "K 8", "2026-11-23")):
        rackround("opened", "dust", "--lot", lot, now=f"{day}T07:10")
        rackround("give", tank, "dust", now=f"{day}T07:30")
        rackround("saw", tank, "dead", "--heads", "2", now="2026-11-24T07:30")

    found: list[dict[str, Any]] = rackround("changed", "a1", "--json").data["differences"]

    assert {(each["lot"], each["tank"], each["shared"]) for each in found if each["kind"] == "opened"} == {
        ("K 7", "a1", 1),
        ("K 8", "a2", 1),
    }
