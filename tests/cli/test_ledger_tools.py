"""The commands that look after the ledger's file: private exports, a lost end that is reported until it is accepted."""

from __future__ import annotations

import os
from contextlib import closing
from datetime import timedelta
from pathlib import Path

import pytest

from schedules.ledger.stores.sqlite import open_ledger
from tests.ledger.builders import DAY, fill
from tui.cli.main import run


@pytest.fixture
def ledger(tmp_path: Path) -> Path:
    path = tmp_path / "room.ledger.db"
    with closing(open_ledger(path)) as opened:
        fill(opened, 5)
    return path


def test_an_export_is_for_its_owner_only_and_never_written_over(
    ledger: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    to = tmp_path / "export.jsonl"
    old = os.umask(0)
    try:
        assert run(["ledger", "export", str(ledger), str(to)]) == 0
    finally:
        os.umask(old)
    assert to.stat().st_mode & 0o777 == 0o600
    written = to.read_bytes()
    assert run(["ledger", "export", str(ledger), str(to)]) == 2
    assert "exists already and was not changed" in capsys.readouterr().err
    assert to.read_bytes() == written


def test_an_export_to_the_screen_and_to_a_file_are_the_same(
    ledger: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(["ledger", "export", str(ledger)]) == 0
    printed = capsys.readouterr().out
    run(["ledger", "export", str(ledger), str(tmp_path / "export.jsonl")])
    assert (tmp_path / "export.jsonl").read_text("ascii") == printed


def test_a_wrong_line_of_an_import_is_named_and_leaves_nothing(
    ledger: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    source, to = tmp_path / "export.jsonl", tmp_path / "again.db"
    run(["ledger", "export", str(ledger), str(source)])
    source.write_text(source.read_text("ascii").replace('"planned":true', '"planned":"yes"', 1), "ascii")
    assert run(["ledger", "import", str(to), str(source)]) == 2
    told = capsys.readouterr().err
    assert f'{source}:3: planned: found "yes", allowed is true or false' in told
    assert not to.exists()


def test_a_lost_end_is_reported_by_every_command_until_it_is_accepted(
    ledger: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    older = ledger.read_bytes()
    with closing(open_ledger(ledger)) as opened:
        fill(opened, 2, DAY + timedelta(days=2))
        count = opened.last_seq()
    ledger.write_bytes(older)
    for command in ("verify", "verify", "export"):
        assert run(["ledger", command, str(ledger)]) == 2
        assert "entries are missing at its end" in capsys.readouterr().err
    assert run(["ledger", "accept", str(ledger)]) == 0
    assert "taken as it is" in capsys.readouterr().out
    assert run(["ledger", "verify", str(ledger)]) == 0
    with closing(open_ledger(ledger)) as opened:
        assert opened.last_seq() < count
