"""What may know of what: the domain knows no screen and no clock, and commands that print load no screen."""

from __future__ import annotations

import ast
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import schedules
import tui
from tests.tui.rooms import CHORES, make_session, room_text
from tui.cli.main import COMMANDS

DOMAIN = Path(schedules.__file__).parent
TUI = Path(tui.__file__).parent
SCREENS = frozenset(("textual", "rich", "tui"))
CLOCKS = frozenset(("now", "today", "utcnow", "time_ns", "monotonic", "perf_counter", "localtime", "gmtime"))
"""Methods that read a clock; the module `time` may not be imported at all."""
WITH_SCREENS = frozenset(("open", "demo", "first", "doctor", "serve", "passcode"))
"""Those that open the dashboard, and the one that checks the dashboard's own file of keys."""
HEADLESS: dict[str, list[list[str]]] = {
    "check": [["check", "ROOM"]],
    "plan": [["plan", "ROOM", "--days", "3"], ["plan", "ROOM", "--days", "3", "--json"]],
    "round": [["round", "ROOM"], ["round", "ROOM", "--json"]],
    "missed": [["missed", "ROOM"]],
    "flags": [["flags", "ROOM", "--json"]],
    "give": [["give", "ROOM", "a1", "dust"]],
    "skip": [["skip", "ROOM", "a2", "dust", "--because", "cloudy"]],
    "leftovers": [["leftovers", "ROOM", "a1", "dust", "some"]],
    "came": [["came", "ROOM", "a1", "flake", "slowly"]],
    "note": [["note", "ROOM", "a1", "moulted"]],
    "seen": [["seen", "ROOM", "a3", "doubled"]],
    "read": [["read", "ROOM", "a1", "tds=180"]],
    "water": [["water", "ROOM"], ["water", "ROOM", "a1", "--json"]],
    "saw": [["saw", "ROOM", "a1", "hatch"]],
    "chores": [["chores", "ROOM"], ["chores", "ROOM", "--json"]],
    "did": [["did", "ROOM", "wipe_front", "a1"]],
    "lives": [["lives", "ROOM"]],
    "survival": [["survival", "ROOM"]],
    "lines": [["lines", "ROOM"], ["lines", "ROOM", "--json"]],
    "changed": [["changed", "ROOM", "a1"]],
    "expected": [["expected", "ROOM"]],
    "leave": [
        ["leave", "ROOM", "--from", "2026-11-26", "--to", "2026-12-05", "--helper", "Ida", "--post"],
        ["leave", "ROOM", "--withdraw"],
        ["leave", "ROOM", "--from", "2026-11-25", "--to", "2026-12-05", "--helper", "Ida", "--post"],
    ],
    "returned": [["returned", "ROOM"]],
    "report": [["report", "ROOM"], ["report", "ROOM", "--json"]],
    "topoff": [["topoff", "ROOM", "a1", "--litres", "1"], ["topoff", "ROOM", "a1", "--json"]],
    "makeup": [["makeup", "ROOM"]],
    "pour": [["pour", "ROOM", "a1", "pure=1"]],
    "undo": [["undo", "ROOM"]],
    "new": [["new", "ROOM.new.toml", "--yes"]],
    "prepare": [["prepare", "ROOM"]],
    "lookback": [["lookback", "ROOM"]],
    "calendar": [["calendar", "ROOM"]],
    "stock": [["stock", "ROOM"]],
    "delivered": [["delivered", "ROOM", "dust", "50", "--lot", "K7", "--use-by", "2027-03-31"]],
    "opened": [["opened", "ROOM", "dust"]],
    "weighed": [["weighed", "ROOM", "dust", "12,5"]],
    "ledger": [["ledger", "verify", "ROOM"]],
    "completion": [["completion", "bash"]],
}
LOADED = """
import sys
from tui.cli.main import run
code = run(sys.argv[1:])
print(code, *sorted(sys.modules), file=sys.stderr)
"""


def modules() -> Iterator[tuple[str, Path]]:
    """Every module of the domain, by name and file."""
    for path in sorted(DOMAIN.rglob("*.py")):
        parts = path.relative_to(DOMAIN.parent).with_suffix("").parts
        yield ".".join(parts[:-1] if parts[-1] == "__init__" else parts), path


def test_the_domain_loads_no_screen() -> None:
    names = [name for name, _ in modules()]
    code = "import sys, importlib; [importlib.import_module(name) for name in sys.argv[1:]]; print(*sys.modules)"
    run = subprocess.run([sys.executable, "-c", code, *names], capture_output=True, text=True, check=True)

    assert not {name.partition(".")[0] for name in run.stdout.split()} & SCREENS


def test_the_domain_names_no_screen_in_any_import_also_a_late_one() -> None:
    found = []
    for name, path in modules():
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            imported = [alias.name for alias in node.names] if isinstance(node, ast.Import) else []
            imported += [node.module or ""] if isinstance(node, ast.ImportFrom) else []
            found += [(name, each) for each in imported if each.partition(".")[0] in SCREENS]

    assert found == []


def test_the_domain_reads_no_clock() -> None:
    found = []
    for name, path in modules():
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            if isinstance(node, ast.Import | ast.ImportFrom):
                module = node.module if isinstance(node, ast.ImportFrom) else node.names[0].name
                found += [f"{name}:{node.lineno}"] if module == "time" else []
            if isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute) and node.func.attr in CLOCKS:
                found.append(f"{name}:{node.lineno} {ast.unparse(node.func)}")

    assert found == []


def test_every_command_that_prints_is_tried_here() -> None:
    assert set(COMMANDS) - WITH_SCREENS == set(HEADLESS)


def test_commands_that_print_load_no_screen(tmp_path: Path) -> None:
    room_file = tmp_path / "room.toml"
    room_file.write_text(room_text(also=CHORES), encoding="utf-8")
    make_session(tmp_path).ledger.close()
    for words in (words for runs in HEADLESS.values() for words in runs):
        given = [word.replace("ROOM", str(room_file)) for word in words] + ["--now", "2026-11-25T07:10"]
        run = subprocess.run([sys.executable, "-c", LOADED, *given], capture_output=True, text=True, check=True)
        code, *loaded = run.stderr.split()

        assert code == "0", (given, run.stderr)
        assert not [name for name in loaded if name.partition(".")[0] in ("textual", "rich")], given


def test_no_screen_loads_what_draws_plots_before_one_is_shown() -> None:
    names = [".".join(path.relative_to(TUI.parent).with_suffix("").parts) for path in sorted(TUI.rglob("*.py"))]
    code = "import sys, importlib; [importlib.import_module(name) for name in sys.argv[1:]]; print(*sys.modules)"
    wanted = [name for name in names if not name.endswith(("__init__", "__main__"))]
    run = subprocess.run([sys.executable, "-c", code, *wanted], capture_output=True, text=True, check=True)
    loaded = set(run.stdout.split())

    assert "tui.screens.animals.survival" in loaded
    assert not loaded & {"plotext", "textual_plotext"}


def loaded_by(code: str, *words: str) -> set[str]:
    """The modules that are loaded after some code ran, which prints nothing itself."""
    code = f"import sys; sys.argv[1:] = {list(words)!r}\n{code}\nprint(*sys.modules, file=sys.stderr)"
    return set(subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stderr.split())


def test_the_round_opens_without_what_plans_or_checks_a_room_file() -> None:
    loaded = loaded_by("import tui.cli.dashboard, tui.kept_room, tui.app, tui.screens.round, schedules.session.session")

    assert "tui.widgets.stop_view" in loaded
    late = {
        "importlib.metadata",
        "numpy",
        "pydantic",
        "schedules.leave",
        "schedules.planning.posting",
        "schedules.planning.search",
        "schedules.review.survival",
        "tui.cli.formats",
        "tui.screens.help",
    }
    assert not loaded & late


def test_the_command_lines_words_are_read_without_what_opens_a_room() -> None:
    loaded = loaded_by("from tui.cli.parser import Words; Words().read(sys.argv[1:])", "round", "room.toml")

    assert "tui.cli.parser.words" in loaded
    assert not loaded & {"importlib.metadata", "schedules.room_file", "schedules.session"}


def test_garbage_is_looked_for_again_once_a_command_runs() -> None:
    code = "import gc; from tui.__main__ import main; main()"
    ended = "import atexit, gc; atexit.register(lambda: print(gc.isenabled(), file=sys.stderr))"
    run = subprocess.run(
        [sys.executable, "-c", f"import sys; {ended}; {code}", "check", "nowhere.toml"], capture_output=True, text=True
    )

    assert run.stderr.split()[-1] == "True"
