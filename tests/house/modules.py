"""Writes MODULES.md in `schedules` and `tui`: every folder and module with the first line of its docstring.

`python -m tests.house.modules` writes these, and all else that is made from the code: the description of the ledger's
entries, the schemas of JSON output, the manual page. Tests compare each with the code.
"""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

from schedules.ledger.documentation import format_lines

ROOT = Path(__file__).parents[2]
PACKAGES = ("schedules", "tui")
LIST_NAME = "MODULES.md"


def first_line(module: Path) -> str:
    """The first line of a module's docstring."""
    text = ast.get_docstring(ast.parse(module.read_text(encoding="utf-8"))) or ""
    return text.partition("\n")[0]


def module_list(package: Path) -> str:
    """The whole file: a section for each folder, a row for each module."""
    head = [
        f"# Modules of `{package.name}`",
        "",
        "Made by `make modules` from the first line of each module's docstring.",
    ]
    folders = sorted(init.parent for init in package.rglob("__init__.py"))
    return "\n".join([*head, *(line for folder in folders for line in _section(folder))]) + "\n"


def _section(folder: Path) -> Iterator[str]:
    yield from ("", f"## {folder.relative_to(ROOT).as_posix()}", "", first_line(folder / "__init__.py"))
    rows = [(module.name, first_line(module)) for module in sorted(folder.glob("*.py")) if module.name[0] != "_"]
    if rows:
        yield from ("", "| module | what it is |", "| --- | --- |")
        yield from (f"| `{name}` | {line} |" for name, line in rows)


def write() -> None:
    """Write the list of each package."""
    for name in PACKAGES:
        (ROOT / name / LIST_NAME).write_text(module_list(ROOT / name), encoding="utf-8")


def write_entries() -> None:
    """Write the description of the ledger's entries into the ledger's page."""
    page = ROOT / "schedules" / "ledger" / "README.md"
    text = page.read_text("utf-8")
    first, after = text.index("\n### `") + 1, text.index("\n## Promises")
    page.write_text(text[:first] + "\n".join(format_lines()) + text[after:], encoding="utf-8")


if __name__ == "__main__":
    # Imported here and not above: comparing the lists needs nothing of these.
    from tests.house.manual import write as write_manual
    from tui.cli.formats.__main__ import main as write_formats

    write()
    write_entries()
    write_formats()
    write_manual()
