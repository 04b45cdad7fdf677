"""How many small faults in a folder its tests find: `python -m tests.bench.mutants [FOLDER ...]` (`make mutants`).

mutmut puts one fault at a time into a copy of the program in a temporary folder and runs the tests that stand for the
folder; the work tree is never touched. What no test found is written to a file there, as differences. `--sample 200`
tries so many faults drawn at random (`--seed 1`), where all would take too long.
"""

from __future__ import annotations

import json
import shutil
import subprocess
import sys
from argparse import ArgumentParser
from pathlib import Path
from random import Random
from tempfile import mkdtemp

ROOT = Path(__file__).parents[2]
COPIED = ("schedules", "tui", "demo_racks", "tests", "pyproject.toml", "README.md")
TESTS = {
    "schedules/round": ("tests/round",),
    "schedules/review/missed": ("tests/missed",),
    "schedules/review/flags": ("tests/flags",),
    "schedules/review/survival": ("tests/life",),
    "schedules/amounts/ration": ("tests/amounts", "tests/planning/test_posting.py"),
    "schedules/session": (
        "tests/session",
        "tests/flags/test_acknowledged.py",
        "tests/cli/test_lives.py",
        "tests/cli/test_changed.py",
        "tests/cli/test_seen.py",
        "tests/water/test_acts.py",
        "tests/water/test_doubts.py",
        "tests/stock/test_session.py",
        "tests/leave",
        "tests/life/test_quarantine.py",
        "tests/cli/test_calendar.py",
    ),
    "schedules/history": (
        "tests/history",
        "tests/life",
        "tests/ledger/test_history.py",
        "tests/session/test_refresh.py",
        "tests/flags/test_days_away.py",
        "tests/amounts/test_growth.py",
        "tests/cli/test_lives.py",
        "tests/round/test_why.py",
    ),
    "schedules/water": ("tests/water", "tests/amounts/test_water.py"),
    "schedules/stock": ("tests/stock", "tests/cli/test_stock.py"),
    "schedules/chores": (
        "tests/chores",
        "tests/round/test_chore_stops.py",
        "tests/session/test_chores.py",
        "tests/cli/test_chores.py",
    ),
    "schedules/leave": ("tests/leave", "tests/session/test_leave_acts.py"),
    "schedules/room": (
        "tests/room",
        "tests/room_file",
        "tests/cli/test_ledger_places.py",
        "tests/ledger/test_clock.py",
        "tests/water/test_acts.py",
        "tests/water/makeup/test_formulas.py",
        "tests/life/test_survival.py",
    ),
}
"""Each folder that can be tried, with the tests that stand for it."""
SHOW = "import sys; from mutmut.__main__ import show; [show.callback(name) for name in sys.argv[1:]]"
"""`mutmut show` for many mutants in one process."""
SURVIVED = frozenset((0, 5, 33))
"""Exit codes by which mutmut says that no test failed, that none was found, that none reaches the fault."""
USUAL = ("schedules/round", "schedules/review/missed", "schedules/session")


def main(words: list[str]) -> int:
    """Print a row for each folder; 2 when a folder is not known, 1 when mutmut fails, else 0."""
    parser = ArgumentParser(description="Put small faults into a copy and count those the tests find.")
    parser.add_argument("folders", nargs="*", metavar="FOLDER", default=USUAL)
    parser.add_argument("--sample", type=int, metavar="N", help="try N faults of each folder, drawn at random")
    parser.add_argument("--seed", type=int, default=1)
    asked = parser.parse_args(words)
    unknown = [folder for folder in asked.folders if folder not in TESTS]
    if unknown:
        sys.stderr.write(f"No tests are listed for {', '.join(unknown)}; known: {', '.join(TESTS)}\n")
        return 2
    place = Path(mkdtemp(prefix="rackround-mutants-"))
    sys.stdout.write("| module | mutants | killed | survived |\n| --- | --- | --- | --- |\n")
    for folder in asked.folders:
        copy = place / folder.replace("/", "-")
        _copy(folder, copy)
        names = [] if asked.sample is None else _sample(copy, asked.sample, asked.seed)
        if _mutmut(copy, "run", "--max-children", "1", *names).returncode:
            sys.stderr.write(f"mutmut could not try {folder}: read {copy / 'mutmut.log'}\n")
            return 1
        sys.stdout.write(_row(folder, copy) + "\n")
        sys.stdout.flush()
        with (place / "survivors.diff").open("a", encoding="utf-8") as file:
            file.write(_survivors(copy))
    sys.stdout.write(f"\nSurvivors, as differences: {place / 'survivors.diff'}\n")
    return 0


def _sample(copy: Path, count: int, seed: int) -> list[str]:
    """The names of so many faults, drawn at random from all that mutmut makes."""
    _mutmut(copy, "run", "--max-children", "1", "no fault has this name")  # makes them, and tries none
    names = sorted(_results(copy))
    return Random(seed).sample(names, min(count, len(names)))


def _results(copy: Path) -> dict[str, int | None]:
    """By name of each fault the exit code of its tests, None where it was not tried."""
    files = sorted((copy / "mutants").rglob("*.meta"))
    found = [json.loads(file.read_text(encoding="utf-8"))["exit_code_by_key"] for file in files]
    return {name: code for codes in found for name, code in codes.items()}


def _copy(folder: str, copy: Path) -> None:
    """The program and its tests in a folder of their own, where mutmut is configured to try one folder."""
    copy.mkdir()
    for name in COPIED:
        if (ROOT / name).is_dir():
            shutil.copytree(ROOT / name, copy / name, ignore=shutil.ignore_patterns("__pycache__"))
        else:
            shutil.copy(ROOT / name, copy / name)
    with (copy / "pyproject.toml").open("a", encoding="utf-8") as file:
        file.write(_configuration(folder))


def _configuration(folder: str) -> str:
    """What mutmut reads from pyproject.toml. Long tests stay out, and so does git, which knows nothing of the copy."""
    settings = {
        "source_paths": ["schedules"],
        "only_mutate": [f"{folder}/*"],
        "also_copy": ["tui", "demo_racks", "README.md"],
        "pytest_add_cli_args": ["-m", "not long", "-p", "no:cacheprovider"],
        "pytest_add_cli_args_test_selection": list(TESTS[folder]),
    }
    lines = [f"{name} = {json.dumps(value)}" for name, value in settings.items()]
    return "\n".join(["", "[tool.mutmut]", *lines, "use_git_change_detection = false", ""])


def _mutmut(copy: Path, *arguments: str) -> subprocess.CompletedProcess[str]:
    """Run mutmut in the copy at low priority; what it prints is kept in mutmut.log."""
    command = ["nice", sys.executable, "-m", "mutmut", *arguments]
    done = subprocess.run(command, cwd=copy, text=True, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, check=False)
    with (copy / "mutmut.log").open("a", encoding="utf-8") as log:
        log.write(done.stdout)
    return done


def _row(folder: str, copy: Path) -> str:
    """A mutant that makes a test hang or crash is killed; one that no test reaches survived."""
    tried = [code for code in _results(copy).values() if code is not None]
    survived = sum(code in SURVIVED for code in tried)
    killed = len(tried) - survived
    share = f" ({killed / len(tried):.0%})" if tried else ""
    return f"| {folder} | {len(tried)} | {killed}{share} | {survived} |"


def _survivors(copy: Path) -> str:
    names = [name for name, code in _results(copy).items() if code in SURVIVED]
    command = [sys.executable, "-c", SHOW, *names]
    return subprocess.run(command, cwd=copy, text=True, stdout=subprocess.PIPE, check=True).stdout


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
