"""How many small faults in a folder its tests find: `python -m tests.bench.mutants [FOLDER ...]` (`make mutants`).

mutmut puts one fault at a time into a copy of the program in a temporary folder and runs the tests that stand for the
folder; the work tree is never touched. What no test found is written to a file there, as differences.
"""

from __future__ import annotations

import json
import shutil
import subprocess
import sys
from pathlib import Path
from tempfile import mkdtemp

ROOT = Path(__file__).parents[2]
COPIED = ("schedules", "tui", "demo_racks", "tests", "pyproject.toml", "README.md")
TESTS = {
    "schedules/round": ("tests/round",),
    "schedules/review/missed": ("tests/missed",),
    "schedules/review/flags": ("tests/flags",),
    "schedules/review/survival": ("tests/life",),
    "schedules/amounts/ration": ("tests/amounts", "tests/planning/test_posting.py"),
    "schedules/session": ("tests/session",),
}
"""Each folder that can be tried, with the tests that stand for it."""
SHOW = "import sys; from mutmut.__main__ import show; [show.callback(name) for name in sys.argv[1:]]"
"""`mutmut show` for many mutants in one process."""
USUAL = ("schedules/round", "schedules/review/missed", "schedules/session")


def main(folders: tuple[str, ...]) -> int:
    """Print a row for each folder; 2 when a folder is not known, 1 when mutmut fails, else 0."""
    unknown = [folder for folder in folders if folder not in TESTS]
    if unknown:
        sys.stderr.write(f"No tests are listed for {', '.join(unknown)}; known: {', '.join(TESTS)}\n")
        return 2
    place = Path(mkdtemp(prefix="rackround-mutants-"))
    sys.stdout.write("| module | mutants | killed | survived |\n| --- | --- | --- | --- |\n")
    for folder in folders:
        copy = place / folder.replace("/", "-")
        _copy(folder, copy)
        if _mutmut(copy, "run", "--max-children", "1").returncode:
            sys.stderr.write(f"mutmut could not try {folder}: read {copy / 'mutmut.log'}\n")
            return 1
        sys.stdout.write(_row(folder, copy) + "\n")
        sys.stdout.flush()
        with (place / "survivors.diff").open("a", encoding="utf-8") as file:
            file.write(_survivors(copy))
    sys.stdout.write(f"\nSurvivors, as differences: {place / 'survivors.diff'}\n")
    return 0


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
    _mutmut(copy, "export-cicd-stats")
    counts = json.loads((copy / "mutants" / "mutmut-cicd-stats.json").read_text(encoding="utf-8"))
    survived = counts["survived"] + counts["no_tests"]
    killed = counts["total"] - survived - counts["skipped"]
    share = f" ({killed / (killed + survived):.0%})" if killed + survived else ""
    return f"| {folder} | {killed + survived} | {killed}{share} | {survived} |"


def _survivors(copy: Path) -> str:
    lines = (line.strip().partition(": ") for line in _mutmut(copy, "results").stdout.splitlines())
    names = [name for name, _, status in lines if status in ("survived", "no tests")]
    command = [sys.executable, "-c", SHOW, *names]
    return subprocess.run(command, cwd=copy, text=True, stdout=subprocess.PIPE, check=True).stdout


if __name__ == "__main__":
    sys.exit(main(tuple(sys.argv[1:]) or USUAL))
