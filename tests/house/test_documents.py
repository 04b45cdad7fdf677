"""The manual page, the completion scripts and the pages of the documentation describe the program as it is."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

from tests.house.manual import MANUAL, manual
from tests.house.modules import ROOT
from tests.house.pages import made_pages
from tui.acts import ACTS
from tui.cli.main import COMMANDS, run
from tui.cli.parser.software import SHELLS

TYPED = sorted(set(COMMANDS) - {"first"})
"""Commands that can be typed; `first` is what happens where nothing is."""


def test_the_manual_page_is_up_to_date_else_run_make_modules() -> None:
    assert MANUAL.read_text("utf-8") == manual()


def test_every_command_has_a_section_in_the_manual_and_on_the_page_of_commands() -> None:
    page = made_pages()["commands.md"]

    assert [name for name in TYPED if f"\\fI\\,{name}" not in manual()] == []
    assert [name for name in TYPED if f"\n## {name}\n" not in page] == []


def test_every_act_is_on_the_page_of_keys() -> None:
    page = made_pages()["keys.md"]

    assert [act.id for act in ACTS if act.help not in page] == []


def test_the_page_of_the_room_file_names_a_key_only_where_a_room_file_may_have_it() -> None:
    page = made_pages()["room_file.md"]
    room = ROOT / "demo_racks" / "breeding_room.toml"
    keys = {line.partition("=")[0].strip() for line in room.read_text("utf-8").splitlines() if " = " in line}
    plain = {key for key in keys if key.isidentifier()}

    assert {key for key in plain if f"| `{key}` |" not in page} == set()


def test_the_documentation_builds_without_a_link_that_leads_nowhere(tmp_path: Path) -> None:
    command = [sys.executable, "-m", "mkdocs", "build", "--strict", "--quiet", "-f", "docs/mkdocs.yml"]
    done = subprocess.run([*command, "-d", str(tmp_path / "site")], cwd=ROOT, capture_output=True, text=True)

    assert done.returncode == 0, done.stderr
    assert "rackround give ROOM.toml TANK FEED" in (tmp_path / "site" / "commands" / "index.html").read_text("utf-8")


@pytest.mark.parametrize("shell", SHELLS)
def test_each_shell_gets_a_script_that_names_every_command(shell: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["completion", shell]) == 0
    script = capsys.readouterr().out

    assert [name for name in TYPED if name not in script] == []


def test_bash_completes_a_command_and_then_its_options(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    run(["completion", "bash"])
    script = tmp_path / "rackround.bash"
    script.write_text(capsys.readouterr().out)
    asked = f"""
        source {script}
        COMP_WORDS=(rackround loo); COMP_CWORD=1; _shtab_rackround rackround loo rackround; echo "${{COMPREPLY[@]}}"
        COMP_WORDS=(rackround skip --bec); COMP_CWORD=2; _shtab_rackround rackround --bec skip; echo "${{COMPREPLY[@]}}"
    """
    done = subprocess.run(["bash", "-c", asked], capture_output=True, text=True, check=True)

    assert done.stdout.split() == ["lookback", "--because"]
