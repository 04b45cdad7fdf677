"""`rackround seen` and what `rackround flags` then prints."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from tests.cli.conftest import Rackround
from tui.cli.main import run


@pytest.fixture(autouse=True)
def _past(rackround: Rackround) -> None:
    """Pressed flake given twice to a1 and some of it left, dust given twice to a2."""
    for tank, feed in (("a1", "flake"), ("a1", "flake"), ("a2", "dust"), ("a2", "dust")):
        assert rackround("give", tank, feed, "--anyway").code == 0
    rackround("leftovers", "a1", "flake", "some")


def flags(rackround: Rackround, **when: str) -> list[dict[str, Any]]:
    found: list[dict[str, Any]] = rackround("flags", "--json", **when).data["flags"]
    return found


def one(rackround: Rackround, kind: str, tank: str = "a1", **when: str) -> dict[str, Any]:
    (found,) = (flag for flag in flags(rackround, **when) if (flag["kind"], flag["tank"]) == (kind, tank))
    return found


def test_a_seen_flag_is_printed_last_with_who_has_seen_it(rackround: Rackround) -> None:
    before = flags(rackround)
    answer = rackround("seen", "a1", "doubled", "--by", "Ole")

    assert (answer.code, answer.err) == (0, "")
    assert answer.out == "a1: seen, listed last: given twice, Pressed flake\n"
    after = flags(rackround)
    assert after[-1] == one(rackround, "doubled") | {"seen_by": ["Ole"]}
    assert after[:-1] == [flag for flag in before if (flag["kind"], flag["tank"]) != ("doubled", "a1")]
    lines = rackround("flags").out.splitlines()
    assert lines[-1].startswith("seen by Ole: a1 Upper [left] one: given twice: Pressed flake 2 times")
    assert [line for line in lines if line.startswith("seen")] == lines[-1:]


def test_undo_takes_it_back(rackround: Rackround) -> None:
    before = flags(rackround)
    rackround("seen", "a1", "doubled")

    assert rackround("undo").out == "taken back: flag of a1 seen: given twice, Pressed flake, Wed 25 Nov\n"
    assert flags(rackround) == before


def test_a_flag_of_which_there_is_more_now_is_printed_among_the_others_again(rackround: Rackround) -> None:
    rackround("seen", "a1", "doubled")
    rackround("give", "a1", "flake", "--anyway")

    assert one(rackround, "doubled")["seen_by"] == []


def test_a_flag_seen_already_is_refused_with_who_and_when(rackround: Rackround) -> None:
    rackround("seen", "a1", "doubled", "--by", "Ole")
    again = rackround("seen", "a1", "doubled")

    assert (again.code, again.out) == (3, "")
    assert "already marked by Ole at 07:30: flag of a1 seen: given twice, Pressed flake, Wed 25 Nov" in again.err


def test_the_kind_may_be_written_as_it_is_printed(rackround: Rackround) -> None:
    rackround("give", "a1", "flake", "--anyway")
    assert rackround("seen", "a1", "over-ration").code == 0
    assert one(rackround, "over_ration")["seen_by"] == ["Mara"]


def test_of_several_flags_of_a_kind_one_is_named_by_feed_or_day(rackround: Rackround) -> None:
    later = "2026-11-26T07:30"
    rackround("give", "a1", "dust", "--anyway")
    rackround("give", "a1", "dust", "--anyway")
    for _ in range(2):
        rackround("give", "a1", "flake", "--anyway", now=later)

    assert rackround("seen", "a1", "Given twice", now=later).err == rackround("seen", "a1", "doubled", now=later).err
    several = rackround("seen", "a1", "doubled", now=later)
    assert several.code == 2
    assert '3 flags "doubled" of a1; name one with --feed and --on' in several.err
    assert all(which in several.err for which in ("flake, 2026-11-25", "flake, 2026-11-26", "dust, 2026-11-25"))

    assert rackround("seen", "a1", "doubled", "--feed", "dust", now=later).code == 0
    assert rackround("seen", "a1", "doubled", "--on", "2026-11-26", now=later).code == 0
    assert rackround("seen", "a1", "doubled", now=later).code == 0
    assert [flag["seen_by"] for flag in flags(rackround, now=later) if flag["kind"] == "doubled"][-3:] == [["Mara"]] * 3


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("a1", "past_date"), 'no flag "past_date" of a1 as named; the flags of a1: '),
        (("a1", "doubled", "--feed", "dust"), "doubled (flake, 2026-11-25)"),
        (("a1", "doubled", "--on", "2026-11-24"), "doubled (flake, 2026-11-25)"),
        (("a1", "dubled"), 'did you mean "doubled"?'),
        (("z9", "doubled"), 'no tank "z9"'),
        (("a1", "doubled", "--feed", "moss"), 'no feed "moss"'),
    ],
)
def test_a_flag_that_there_is_not_is_told_with_those_there_are_and_nothing_is_written(
    words: tuple[str, ...], told: str, rackround: Rackround
) -> None:
    before = flags(rackround)
    answer = rackround("seen", *words)

    assert (answer.code, answer.out) == (2, "")
    assert told in answer.err
    assert flags(rackround) == before


def test_seen_flags_come_back_from_an_export_and_the_ledger_verifies(
    rackround: Rackround, room: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    rackround("seen", "a1", "doubled")
    before, lines, copy = flags(rackround), tmp_path / "lines.jsonl", tmp_path / "copy.ledger.db"

    assert run(["ledger", "export", str(room), str(lines)]) == 0
    assert run(["ledger", "import", str(copy), str(lines)]) == 0
    assert run(["ledger", "verify", str(copy)]) == 0
    capsys.readouterr()
    assert rackround("flags", "--json", "--ledger", str(copy)).data["flags"] == before
    assert ["Mara"] in [flag["seen_by"] for flag in before]
