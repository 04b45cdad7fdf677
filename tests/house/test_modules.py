"""The lists of modules say what stands in the modules, and folders stay small enough to read."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.house.modules import LIST_NAME, PACKAGES, ROOT, first_line, module_list

MOST_MODULES = 14
MOST_LINES = 300


def python_files() -> list[Path]:
    return [path for name in PACKAGES for path in sorted((ROOT / name).rglob("*.py"))]


@pytest.mark.parametrize("package", PACKAGES)
def test_the_list_of_modules_is_up_to_date_else_run_make_modules(package: str) -> None:
    assert (ROOT / package / LIST_NAME).read_text(encoding="utf-8") == module_list(ROOT / package)


def test_every_module_says_in_its_first_line_what_it_is() -> None:
    assert [str(path.relative_to(ROOT)) for path in python_files() if len(first_line(path)) < 15] == []


def test_no_folder_holds_more_modules_than_can_be_seen_at_a_glance() -> None:
    folders = {path.parent for path in python_files()}
    counts = {str(each.relative_to(ROOT)): sum(file.name[0] != "_" for file in each.glob("*.py")) for each in folders}

    assert {name: count for name, count in counts.items() if count > MOST_MODULES} == {}


def test_no_module_is_longer_than_a_reader_holds_in_mind() -> None:
    lengths = {str(path.relative_to(ROOT)): len(path.read_text("utf-8").splitlines()) for path in python_files()}

    assert {name: length for name, length in lengths.items() if length > MOST_LINES} == {}
