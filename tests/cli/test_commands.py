"""The commands a script or a screen reader uses: what they print, what they record, what they refuse."""

from __future__ import annotations

import json
import os
import re
import subprocess
import sys
from pathlib import Path
from threading import Event, active_count
from typing import Any

import pytest

from schedules.ledger.entries import Posting
from schedules.planning import checker, posting
from schedules.planning.posting import today_and_on
from tests.cli.conftest import MORNING, Answer, Rackround
from tui.cli.main import run
from tui.cli.out import said_when_slow

THURSDAY = "2026-11-26T07:30"


def due_feeds(rackround: Rackround, tank: str = "a1", **when: str) -> dict[str, str]:
    stops = rackround("round", "--json", **when).data["stops"]
    return {each["feed"]: each["state"] for stop in stops if stop["tank"] == tank for each in stop["servings"]}


def test_a_sound_room_file_is_told_with_what_it_holds(rackround: Rackround) -> None:
    answer = rackround("check")

    assert (answer.code, answer.err) == (0, "")
    assert "1 rack, 2 tanks, 2 feeds" in answer.out


def test_what_is_odd_in_a_sound_room_file_is_warned_of_with_code_0(rackround: Rackround, room: Path) -> None:
    room.write_text(f'{room.read_text()}\n[[racks.tanks]]\nid = "A1"\nvolume = 60\n')
    line = room.read_text().count("\n") - 2

    answer = rackround("check")

    assert (answer.code, answer.err) == (0, "")
    assert [text.removeprefix(f"warning: {room}:") for text in answer.out.splitlines()[1:]] == [
        f"{line}: racks[left].tanks[A1]: no animals in it, so nothing is planned for it",
        f'{line + 1}: racks[left].tanks[A1].id: "A1" differs from "a1" in capital letters only',
    ]


def test_faults_of_a_room_file_go_to_standard_error_with_code_2(rackround: Rackround, room: Path) -> None:
    room.write_text(room.read_text().replace("volume = 60", "volume = 0", 1))
    line = room.read_text().split("volume = 0")[0].count("\n") + 1

    answer = rackround("check")

    assert (answer.code, answer.out) == (2, "")
    assert answer.err.startswith(f"{room}:{line}: racks[left].tanks[a1].volume: found 0, allowed is a volume from 0.1")


@pytest.mark.parametrize("command", ["round", "plan", "missed", "flags"])
def test_every_command_reports_a_missing_room_file_without_a_traceback(
    rackround: Rackround, room: Path, command: str
) -> None:
    room.unlink()

    answer = rackround(command)

    assert answer.code == 2
    assert str(room) in answer.err and "Traceback" not in answer.err


def test_the_round_sheet_is_the_documented_json(rackround: Rackround) -> None:
    sheet = rackround("round", "--json").data

    assert list(sheet) == ["format", "date", "round", "stops"]
    assert (sheet["date"], sheet["round"]) == ("2026-11-25", "morning")
    stop = sheet["stops"][0]
    assert list(stop) == ["tank", "rack", "walk", "draw_off", "servings", "chores", "flags"]
    keys = ["feed", "amount", "unit", "amount_mg", "method", "part", "state", "why"]
    assert all(list(serving) == keys for stop in sheet["stops"] for serving in stop["servings"])


def test_the_round_sheet_reads_as_text(rackround: Rackround) -> None:
    text = rackround("round").out

    assert text.startswith("Two shelves, Wed 25 Nov 2026, morning round")
    assert "a1 Upper [left] one" in text
    assert "\x1b" not in text


def test_the_round_sheet_says_what_goes_in_first_or_that_adults_will_share_the_powder(rackround: Rackround) -> None:
    stops = rackround("round").out.split("\n\n")[1:]
    for stop in stops:
        flake, dust = "Pressed flake:" in stop, "Fine dust:" in stop
        assert ("Pressed flake first, in 5 pieces or more for 90 adults" in stop) == (flake and dust)
        assert ("90 adults will share the powder" in stop) == (dust and not flake)
    assert any("Fine dust:" in stop for stop in stops)


def test_printing_the_round_posts_the_plan_once(rackround: Rackround, room: Path) -> None:
    first = due_feeds(rackround)
    room.write_text(room.read_text().replace("per_week = 7\nmax_gap = 1", "per_week = 1"))

    assert due_feeds(rackround) == first


def test_the_round_is_out_before_the_days_after_are_planned(
    rackround: Rackround, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    out_by_then = []

    def planned(*known: Any) -> Posting:
        out_by_then.append(capsys.readouterr().out)
        return today_and_on(*known)

    monkeypatch.setattr(posting, "today_and_on", planned)
    answer = rackround("round")

    assert "1. a1 Upper [left] one" in out_by_then[0]
    assert (answer.code, answer.out, answer.err) == (0, "", "")
    monkeypatch.setattr(sys.stderr, "isatty", lambda: True)
    assert rackround("round") == Answer(0, out_by_then[0], "")
    assert len(out_by_then) == 1
    assert rackround("round", "--on", "2026-12-22").code == 0


def test_somebody_at_a_terminal_is_told_what_is_waited_for(
    rackround: Rackround, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(sys.stderr, "isatty", lambda: True)

    assert rackround("round").err == "rackround: this is the round; the coming weeks are being planned\n"


def test_the_round_of_a_day_ahead_can_be_asked_for_first_thing(rackround: Rackround) -> None:
    ahead = rackround("round", "--on", "2026-11-28", "--json")

    assert ahead.code == 0
    assert ahead.data["date"] == "2026-11-28"
    assert any(stop["servings"] for stop in ahead.data["stops"])


def test_a_trial_plan_posts_nothing(rackround: Rackround) -> None:
    rackround("plan", "--days", "7")
    missed = rackround("missed", "--json", now=THURSDAY).data

    assert (missed["missed"], missed["unposted"]) == ([], [])


@pytest.mark.parametrize("first", ["plan", "round"])
def test_the_plan_that_is_printed_is_the_one_the_round_is_walked_by(rackround: Rackround, first: str) -> None:
    rackround(first)
    plan = rackround("plan", "--json").data
    stops = rackround("round", "--json").data["stops"]

    assert len(plan["servings"]) > len(stops)
    planned = {(each["tank"], each["feed"], each["amount_mg"]) for each in plan["servings"] if each["day"] == 0}
    assert planned == {(stop["tank"], each["feed"], each["amount_mg"]) for stop in stops for each in stop["servings"]}
    assert checker.check(plan) == []


def test_a_day_without_a_posting_has_no_sheet(rackround: Rackround) -> None:
    rackround("round")

    for day in ("2026-11-24", "2027-11-25"):
        answer = rackround("round", "--json", "--on", day)
        assert answer.code == 2 and f"no plan was posted for {day}" in answer.err


def test_what_was_due_on_a_day_nobody_opened_is_what_was_posted_before(rackround: Rackround) -> None:
    rackround("round")

    missed = rackround("missed", "--json", "--since", "2026-11-25", now="2026-11-28T07:30").data["missed"]

    assert {each["date"] for each in missed} <= {"2026-11-25", "2026-11-26", "2026-11-27"}
    assert {(each["tank"], each["feed"]) for each in missed if each["date"] == "2026-11-25"} == {
        (tank, feed) for tank in ("a1", "a2") for feed in due_feeds(rackround, tank)
    }


def test_a_serving_that_is_due_is_recorded_in_the_amount_due(rackround: Rackround) -> None:
    feed = next(iter(due_feeds(rackround)))

    assert rackround("give", "a1", feed).code == 0
    assert due_feeds(rackround)[feed] == "given"


def test_a_second_serving_is_refused_with_code_3_and_who_and_when(rackround: Rackround) -> None:
    feed = next(iter(due_feeds(rackround)))
    rackround("give", "a1", feed, "--by", "Ole")

    again = rackround("give", "a1", feed)

    assert again.code == 3 and again.out == ""
    assert "already given by Ole at 07:30" in again.err


def test_insisting_records_it_as_extra_and_flags_it(rackround: Rackround) -> None:
    feed = next(iter(due_feeds(rackround)))
    rackround("give", "a1", feed)

    assert "as extra (again)" in rackround("give", "a1", feed, "--anyway").out
    assert "doubled" in {flag["kind"] for flag in rackround("flags", "--json").data["flags"]}


def test_a_feed_within_its_gap_is_refused_also_on_another_day(rackround: Rackround) -> None:
    rackround("give", "a1", "flake", "--anyway")

    refused = rackround("give", "a1", "flake", now=THURSDAY)

    assert refused.code == 3 and "2 days apart at least" in refused.err


def test_a_serving_for_yesterday_counts_on_yesterday(rackround: Rackround) -> None:
    assert rackround("give", "a1", "flake", "--on", "2026-11-24").code == 0

    refused = rackround("give", "a1", "flake")

    assert refused.code == 3 and "given yesterday by Mara" in refused.err


def test_a_serving_in_the_future_is_no_serving(rackround: Rackround) -> None:
    answer = rackround("give", "a1", "flake", "--on", "2026-11-26")

    assert answer.code == 2 and "lies ahead" in answer.err


def test_an_unknown_tank_feed_or_keeper_is_answered_with_the_nearest_one(rackround: Rackround) -> None:
    assert 'no tank "a11" in this room; did you mean "a1"?' in rackround("give", "a11", "dust").err
    assert 'no feed "dusk" in this room; did you mean "dust"?' in rackround("give", "a1", "dusk").err
    assert 'did you mean "Mara"?' in rackround("give", "a1", "dust", "--by", "Marra").err


@pytest.mark.parametrize("amount", ["0", "-1", "nan", "1e9", "half"])
def test_an_amount_that_is_none_is_refused_by_its_own_word(rackround: Rackround, amount: str) -> None:
    answer = rackround("give", "a1", "dust", f"--amount={amount}")

    assert answer.code == 2 and amount in answer.err and "up to 1000" in answer.err


def test_a_skip_is_recorded_with_its_reason_and_is_not_missed_later(rackround: Rackround) -> None:
    feed = next(iter(due_feeds(rackround)))
    rackround("skip", "a1", feed, "--because", "water\ncloudy")

    missed = rackround("missed", "--json", now=THURSDAY).data["missed"]

    assert due_feeds(rackround)[feed] == "skipped"
    assert (feed, "a1") not in {(each["feed"], each["tank"]) for each in missed}


def test_nothing_to_skip_is_said_and_not_recorded(rackround: Rackround) -> None:
    due = due_feeds(rackround)
    feed = next(iter(due))
    rackround("skip", "a1", feed, "--because", "cloudy")

    assert rackround("skip", "a1", feed, "--because", "cloudy").code == 3


def test_leftovers_are_flagged_and_undone(rackround: Rackround) -> None:
    rackround("give", "a1", "flake", "--anyway")
    rackround("leftovers", "a1", "flake", "most")
    flagged = {flag["kind"] for flag in rackround("flags", "--json").data["flags"]}

    undone = rackround("undo")

    assert "leftovers" in flagged
    assert "leftovers of Pressed flake in a1: most" in undone.out
    assert "leftovers" not in {flag["kind"] for flag in rackround("flags", "--json").data["flags"]}


def test_undo_takes_back_only_the_acts_of_the_keeper_named(rackround: Rackround) -> None:
    rackround("note", "a1", "hatched", "--by", "Ole")
    rackround("note", "a2", "moss trimmed", "--by", "Mara")

    assert "hatched" in rackround("undo", "--by", "Ole").out
    assert rackround("undo", "--by", "Ole").code == 2
    assert "moss trimmed" in rackround("undo").out


def test_a_mark_that_was_undone_can_be_made_again(rackround: Rackround) -> None:
    feed = next(iter(due_feeds(rackround)))
    rackround("give", "a1", feed)
    rackround("undo")

    assert rackround("give", "a1", feed).code == 0


def test_the_ledger_lies_beside_the_room_file_or_where_it_is_told_to(rackround: Rackround, tmp_path: Path) -> None:
    rackround("round", "--ledger", str(tmp_path / "elsewhere.db"))
    assert (tmp_path / "elsewhere.db").exists() and not (tmp_path / "room.ledger.db").exists()

    rackround("round")
    assert (tmp_path / "room.ledger.db").exists()


def test_a_ledger_that_is_none_is_reported_and_left_alone(rackround: Rackround, room: Path) -> None:
    other = room.with_suffix(".ledger.db")
    other.write_bytes(b"my diary, no ledger at all" * 100)

    answer = rackround("round")

    assert answer.code == 2 and str(other) in answer.err
    assert other.read_bytes() == b"my diary, no ledger at all" * 100


def test_the_keepers_file_is_never_written(rackround: Rackround, room: Path) -> None:
    before = room.read_bytes()
    for words in (("check",), ("plan",), ("round",), ("give", "a1", "dust", "--anyway"), ("missed",), ("flags",)):
        rackround(*words)

    assert room.read_bytes() == before


@pytest.mark.parametrize(
    "words",
    [["nonsense-command"], ["round"], ["plan", "x.toml", "--days", "0"], ["plan", "x.toml", "--start", "2026-02-30"]],
)
def test_words_that_make_no_sense_end_with_code_2(words: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    assert run(words) == 2
    assert "Traceback" not in capsys.readouterr().err


def test_headless_commands_import_no_dashboard(room: Path) -> None:
    script = (
        "import sys; from tui.cli.main import run\n"
        f"for name in ('check', 'plan', 'round', 'missed', 'flags'): run([name, {str(room)!r}, '--now', {MORNING!r}])\n"
        "print(sorted(each for each in sys.modules if each.split('.')[0] in ('textual', 'rich')), file=sys.stderr)"
    )

    ran = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, check=True)

    assert ran.stderr.strip() == "[]"


def test_output_into_a_pipe_that_closes_early_is_no_fault(room: Path) -> None:
    program = f"{sys.executable} -m tui round {room} --now {MORNING} --json"

    ran = subprocess.run(["bash", "-c", f"set -o pipefail; {program} | head -c 1"], capture_output=True, check=False)

    assert b"Traceback" not in ran.stderr and ran.returncode == 0


def test_json_is_printed_alone_on_standard_output(rackround: Rackround) -> None:
    for name in ("round", "missed", "flags", "plan"):
        json.loads(rackround(name, "--json").out)


def test_a_clock_that_went_back_is_told_on_standard_error(rackround: Rackround) -> None:
    rackround("give", "a1", "dust", now=THURSDAY)

    answer = rackround("round", "--json")

    assert "earlier than the last entry" in answer.err
    assert answer.data["date"] == "2026-11-25"


@pytest.mark.parametrize("tool", ["verify", "backup", "export", "import", "repair"])
def test_the_ledgers_own_commands_work_without_a_sound_room_file(
    rackround: Rackround, room: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str], tool: str
) -> None:
    rackround("round")
    run(["ledger", "export", str(room), str(tmp_path / "export.jsonl")])
    room.write_text("no room any more")
    target = {"import": "export.jsonl", "backup": "copy.db", "export": "again.jsonl", "repair": "mended.db"}
    place = tmp_path / "fresh.toml" if tool == "import" else room
    other = [] if tool == "verify" else [str(tmp_path / target[tool])]

    assert run(["ledger", tool, str(place), *other]) == 0
    assert capsys.readouterr().err == ""


def test_an_import_into_a_fresh_ledger_gives_the_same_plan(rackround: Rackround, room: Path, tmp_path: Path) -> None:
    feed = next(iter(due_feeds(rackround)))
    rackround("give", "a1", feed)
    plan = rackround("plan", "--json", now=THURSDAY).data

    run(["ledger", "export", str(room), str(tmp_path / "export.jsonl")])
    run(["ledger", "import", str(tmp_path / "fresh.db"), str(tmp_path / "export.jsonl")])
    rackround("check")

    assert rackround("plan", "--json", "--ledger", str(tmp_path / "fresh.db"), now=THURSDAY).data == plan


def test_a_plans_own_json_can_be_planned_again_without_a_room(
    rackround: Rackround, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    document = rackround("plan", "--json", "--days", "7").data
    path = tmp_path / "plan.json"
    path.write_text(json.dumps(document))

    assert run(["plan", "--problem", str(path), "--json"]) == 0
    again = json.loads(capsys.readouterr().out)
    assert [(each["day"], each["tank"], each["feed"]) for each in again["servings"]] == [
        (each["day"], each["tank"], each["feed"]) for each in document["servings"]
    ]


@pytest.mark.parametrize(
    ("limit", "most", "said"),
    [
        ("MOST_TANKS", 1, "problem.tanks: found 2 tanks, allowed are at most 1"),
        ("LARGEST_PROBLEM", 9, "found more than 0 MiB"),
    ],
)
def test_a_problem_that_is_too_large_is_refused_before_it_is_planned(
    rackround: Rackround,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
    limit: str,
    most: int,
    said: str,
) -> None:
    path = tmp_path / "plan.json"
    path.write_text(json.dumps(rackround("plan", "--json", "--days", "7").data))
    monkeypatch.setattr(f"tui.cli.printing.plan.{limit}", most)

    assert run(["plan", "--problem", str(path)]) == 2
    assert capsys.readouterr().err.startswith(f"rackround: {path}: {said}")


@pytest.mark.parametrize("number", ["1e308", "9" * 400, "-1e308", "5e-324", "NaN", "Infinity"])
def test_a_problem_with_numbers_out_of_all_proportion_is_planned_or_refused(
    rackround: Rackround, tmp_path: Path, capsys: pytest.CaptureFixture[str], number: str
) -> None:
    """Each number of a problem in turn."""
    text = json.dumps(rackround("plan", "--json", "--days", "7").data["problem"])
    path = tmp_path / "plan.json"
    codes = set()
    for found in list(re.finditer(r"(?<=: )-?[0-9][0-9.]*", text))[:60]:
        changed = f"{text[: found.start()]}{number}{text[found.end() :]}"
        path.write_text(f'{{"format": "rackround-plan/2", "problem": {changed}}}')
        codes.add(run(["plan", "--problem", str(path)]))
    assert codes <= {0, 2}
    assert 2 in codes
    assert "Traceback" not in capsys.readouterr().err


def test_what_takes_long_is_said_on_a_terminal(monkeypatch: pytest.MonkeyPatch) -> None:
    said, heard = list[str](), Event()

    def warn(text: str) -> None:
        said.append(text)
        heard.set()

    monkeypatch.setattr("sys.stderr.isatty", lambda: True)
    monkeypatch.setattr("tui.cli.out.warn", warn)
    with said_when_slow("two tanks are being planned", after=0.0):
        assert heard.wait(20)
    assert said[0] == "rackround: two tanks are being planned"


def test_nothing_is_said_where_nobody_looks(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr("sys.stderr.isatty", lambda: False)
    threads = active_count()
    with said_when_slow("two tanks are being planned", after=0.0):
        assert active_count() == threads
    assert capsys.readouterr().err == ""


def test_a_malformed_problem_is_refused_with_the_path_of_its_fault(
    rackround: Rackround, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    document = rackround("plan", "--json", "--days", "7").data
    document["problem"]["tanks"]["a1"]["feeds"]["dust"]["share"] = "much"
    path = tmp_path / "plan.json"
    path.write_text(json.dumps(document))

    assert run(["plan", "--problem", str(path)]) == 2
    assert "problem.tanks.a1.feeds.dust.share" in capsys.readouterr().err


def test_a_plan_does_not_start_in_the_past(rackround: Rackround) -> None:
    answer = rackround("plan", "--start", "2026-11-01")

    assert answer.code == 2 and "is past" in answer.err


def test_a_plan_from_tomorrow_counts_on_todays_round(rackround: Rackround) -> None:
    rackround("round")

    document = rackround("plan", "--json", "--start", "2026-11-26", "--days", "7").data

    assert document["problem"]["tanks"]["a1"]["feeds"]["dust"]["last"] == -1


def test_what_to_prepare_is_the_same_before_and_in_the_middle_of_the_round(rackround: Rackround) -> None:
    before = rackround("prepare", "--json").data
    rackround("give", "a1", "dust")

    assert any(each["feed"] == "dust" and each["stage"] == "weigh" for each in before["prepare"])
    assert rackround("prepare", "--json").data == before
    assert "Fine dust" in rackround("prepare").out


def test_a_tank_that_got_solid_feed_is_to_be_looked_at(rackround: Rackround) -> None:
    assert rackround("lookback", "--json").data["look"] == []
    rackround("give", "a1", "flake", "--anyway")

    (look,) = rackround("lookback", "--json").data["look"]
    assert (look["tank"], look["feed"], look["passed"]) == ("a1", "flake", False)
    assert "Pressed flake should be gone" in rackround("lookback").out


def test_the_round_sheet_tells_the_dose_of_the_mix_in_millilitres(rackround: Rackround) -> None:
    assert re.search(r"Fine dust: [0-9.]+ mL of the mix \([0-9.]+ mg\) with the \d+ mL syringe", rackround("round").out)


@pytest.mark.parametrize("words", [["open"], ["demo"]])
def test_the_dashboard_is_not_opened_without_a_terminal(
    room: Path, words: list[str], capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(sys, "stdin", open(os.devnull))  # noqa: SIM115, PTH123 (given back with the test)
    named = [str(room)] if words == ["open"] else []

    assert run([*words, *named]) == 2
    assert "needs a terminal" in capsys.readouterr().err


def test_named_alone_without_a_terminal_it_says_what_it_is(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(sys, "stdin", open(os.devnull))  # noqa: SIM115, PTH123 (given back with the test)

    assert run([]) == 0
    assert "rackround demo" in capsys.readouterr().out
