"""`rackround saw` and `rackround lives`: what was seen, what is questioned, and what follows for the plan."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from tests.cli.conftest import Rackround
from tui.cli.main import run

LATER = "2027-01-28T07:30"


def heads(rackround: Rackround, tank: str = "a1", **when: str) -> dict[str, int]:
    (found,) = rackround("lives", tank, "--json", **when).data["tanks"]
    counts: dict[str, int] = {stage: count for stage, count in found["heads"].items() if count}
    return counts


def planned(rackround: Rackround, **when: str) -> list[dict[str, Any]]:
    slots: list[dict[str, Any]] = rackround("plan", "--json", "--days", "14", **when).data["servings"]
    return slots


def quarantined(room: Path, days: str) -> None:
    """The second tank as a quarantine."""
    text = room.read_text("utf-8")
    head, tail = text.rsplit("volume = 60\n", 1)
    room.write_text(f"{head}volume = 60\nquarantine = true\n{days}{tail}", "utf-8")


def test_a_hatch_seen_is_there_from_that_day_and_grows_up(rackround: Rackround) -> None:
    answer = rackround("saw", "a1", "hatch", "--about", "30")

    assert (answer.code, answer.out) == (0, "about 30 shrimplets hatched in a1\n")
    assert heads(rackround) == {"adult": 90, "shrimplet": 230}
    assert heads(rackround, now=LATER) == {"adult": 90, "shrimplet": 200, "juvenile": 30}


def test_undo_takes_it_back(rackround: Rackround) -> None:
    rackround("saw", "a1", "dead", "--heads", "2")
    assert rackround("undo").out == "taken back: 2 adults found dead in a1\n"
    assert heads(rackround) == {"adult": 90, "shrimplet": 200}


def test_a_move_takes_from_one_tank_and_gives_to_the_other(rackround: Rackround) -> None:
    answer = rackround("saw", "a1", "moved", "--heads", "12", "--to", "a2", "--line", "dark")

    assert answer.out == "12 adults moved from a1 to a2, line dark\n"
    assert (heads(rackround)["adult"], heads(rackround, "a2")["adult"]) == (78, 102)


def test_tomorrows_ration_follows_and_todays_round_stays_as_posted(rackround: Rackround) -> None:
    def given(sheet: dict[str, Any]) -> dict[tuple[str, str], float]:
        return {(stop["tank"], each["feed"]): each["part"] for stop in sheet["stops"] for each in stop["servings"]}

    before = given(rackround("round", "--json").data)
    whole = planned(rackround)
    rackround("saw", "a1", "count", "--stage", "shrimplet", "--heads", "0")
    rackround("saw", "a1", "count", "--heads", "9")

    assert given(rackround("round", "--json").data) == before
    after = planned(rackround)
    assert any(each["tank"] == "a1" and each["feed"] == "dust" for each in whole)
    assert not any(each["tank"] == "a1" and each["feed"] == "dust" for each in after)
    assert [each for each in after if each["tank"] == "a2"]


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("a1", "sold", "--heads", "91"), "91 adults of a1 sold: only 90 adults are known to be there"),
        (("a1", "dead", "--on", "2026-11-26", "--heads", "1"), "1 adult found dead in a1: Thu 26 Nov 2026 lies ahead"),
    ],
)
def test_what_cannot_be_is_questioned_and_can_be_insisted_on(
    words: tuple[str, ...], said: str, rackround: Rackround
) -> None:
    refused = rackround("saw", *words)
    assert (refused.code, refused.out) == (3, "")
    assert refused.err == f"refused: {said} (--anyway records it all the same)\n"
    assert heads(rackround)["adult"] == 90
    assert rackround("saw", *words, "--anyway").code == 0
    assert heads(rackround, now=LATER).get("adult", 0) < 90


def test_what_was_insisted_on_is_listed_as_not_fitting(rackround: Rackround) -> None:
    rackround("saw", "a1", "sold", "--heads", "91", "--anyway")

    assert heads(rackround) == {"shrimplet": 200}
    assert "does not fit, Wed 25 Nov: 91 adults left, only 90 adults were known" in rackround("lives", "a1").out


def test_nothing_moves_out_of_a_quarantine_without_an_end_unless_insisted_on(rackround: Rackround, room: Path) -> None:
    quarantined(room, "")
    words = ("saw", "a2", "moved", "--heads", "5", "--to", "a1")

    refused = rackround(*words)
    assert refused.code == 3
    assert "a2 is a quarantine without an end (quarantine_days is not set)" in refused.err
    assert rackround(*words, "--anyway").code == 0
    assert heads(rackround)["adult"] == 95


def test_a_quarantine_is_over_so_many_days_after_the_last_animals_came(rackround: Rackround, room: Path) -> None:
    quarantined(room, "quarantine_days = 30\n")
    rackround("saw", "a2", "added", "--heads", "10", "--source", "a friend")
    words = ("saw", "a2", "moved", "--heads", "5", "--to", "a1")

    early = rackround(*words, now="2026-12-24T07:30")
    assert early.code == 3
    assert "lasts 30 days from the last animals that came in, Wed 25 Nov; it is over on Fri 25 Dec" in early.err
    assert rackround(*words, now="2026-12-25T07:30").code == 0


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("a1", "sold"), "say how many for sold"),
        (("a1", "moved", "--heads", "2"), "--to TANK belongs to moved"),
        (("a1", "sold", "--heads", "2", "--to", "a2"), "--to TANK belongs to moved"),
        (("a1", "moved", "--heads", "2", "--to", "a1"), "found a1, allowed is another tank"),
        (("a1", "moved", "--heads", "2", "--to", "a3"), 'no tank "a3" in this room; did you mean "a2"?'),
        (("a1", "hatch", "--stage", "adult"), 'found "adult" for hatch, allowed is shrimplet'),
        (("a1", "dead", "--heads", "0"), "found 0 for dead, allowed is 1 or more"),
        (("a1", "dead", "--heads", "1", "--source", "x"), "found it for dead, allowed is it for added"),
    ],
)
def test_words_that_do_not_fit_are_refused_and_nothing_is_written(
    words: tuple[str, ...], said: str, rackround: Rackround
) -> None:
    answer = rackround("saw", *words)
    assert (answer.code, answer.out) == (2, "")
    assert said in answer.err
    assert heads(rackround) == {"adult": 90, "shrimplet": 200}


def test_sightings_come_back_from_an_export_and_the_ledger_verifies(
    rackround: Rackround, room: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    rackround("saw", "a1", "hatch", "--about", "100")
    rackround("saw", "a1", "moved", "--heads", "40", "--to", "a2")
    before, lines, copy = rackround("lives", "--json").data, tmp_path / "lines.jsonl", tmp_path / "copy.ledger.db"

    assert run(["ledger", "export", str(room), str(lines)]) == 0
    assert run(["ledger", "import", str(copy), str(lines)]) == 0
    assert run(["ledger", "verify", str(copy)]) == 0
    capsys.readouterr()
    assert rackround("lives", "--json", "--ledger", str(copy)).data == before


def test_a_berried_female_is_expected_to_hatch_and_the_plan_gives_fine_feed_from_then_on(
    rackround: Rackround, room: Path
) -> None:
    text = room.read_text("utf-8").replace(', { stage = "shrimplet", count = 200 }', "")
    room.write_text(text.replace("volume = 60\n", "volume = 60\nwater = { temperature = 26 }\n"), "utf-8")
    assert not any(each["feed"] == "dust" for each in planned(rackround))

    rackround("saw", "a1", "berried", "--on", "2026-11-20")

    (found,) = rackround("expected", "--json").data["hatches"]
    assert (found["tank"], found["state"], found["first"], found["film_from"]) == (
        *("a1", "coming", "2026-12-03", "2026-11-28"),
    )
    days = {each["date"] for each in planned(rackround) if (each["tank"], each["feed"]) == ("a1", "dust")}
    assert days and min(days) >= "2026-12-03"
    lines = rackround("expected").out.splitlines()
    assert lines[0].startswith("a1 Upper [left] one: 1 female seen berried Fri 20 Nov: hatch expected Thu 3 Dec to ")
    assert any("guard the filter's intake" in line for line in lines)


def test_a_window_that_passed_is_asked_about_until_it_is_answered(rackround: Rackround) -> None:
    rackround("saw", "a1", "berried", "--on", "2026-10-28")
    assert "Did it come?" in rackround("expected").out
    rackround("saw", "a1", "berried", "--heads", "0")
    assert rackround("expected").out == "no hatch is expected\n"
