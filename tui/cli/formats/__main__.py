"""`python -m tui.cli.formats` writes the JSON Schemas of all documents that `--json` prints into `schemas`."""

from __future__ import annotations

import json
from importlib import import_module
from pathlib import Path
from typing import Any, Final

from tui.cli.formats import FORMATS
from tui.cli.formats.base import Part

FOLDER: Final = Path(__file__).parent / "schemas"


def schema_of(command: str) -> dict[str, Any]:
    """The JSON Schema (draft 2020-12) of what a command prints."""
    module, name = FORMATS[command].split(":")
    model: type[Part] = getattr(import_module(module), name)
    return {"$schema": "https://json-schema.org/draft/2020-12/schema", **model.model_json_schema()}


def schema_text(command: str) -> str:
    """The same as the text of a file."""
    return json.dumps(schema_of(command), indent=1, ensure_ascii=False) + "\n"


def main() -> None:
    """Write a file for each command."""
    for command in FORMATS:
        (FOLDER / f"{command}.json").write_text(schema_text(command), encoding="utf-8")


if __name__ == "__main__":
    main()
