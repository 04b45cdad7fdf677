"""What every command prints with `--json` follows its published schema; a command that prints JSON has one.

Schemas are checked by `jsonschema`, a library of its own (draft 2020-12). A new command gets a line in `OUTPUTS`.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from datetime import datetime, timedelta
from importlib import import_module
from pathlib import Path
from typing import Any, Final

import pytest
from jsonschema import Draft202012Validator, ValidationError
from pydantic import BaseModel

from schedules.room.water.quantities import Quantity
from tui.cli.dashboard import make_demo
from tui.cli.formats import FORMATS
from tui.cli.formats.__main__ import FOLDER, schema_text
from tui.cli.main import run
from tui.cli.options import Options
from tui.cli.parser import Words
from tui.cli.session import open_session

NOW: Final = "2026-11-25T07:05"
OUTPUTS: Final[dict[str, list[list[str]]]] = {
    "plan": [["plan", "ROOM"], ["plan", "ROOM", "--days", "3"]],
    "round": [["round", "ROOM"]],
    "prepare": [["prepare", "ROOM"]],
    "lookback": [["lookback", "ROOM", "--now", "2026-11-25T12:00"]],
    "leave": [["leave", "ROOM", "--from", "2026-11-27", "--to", "2026-12-06", "--helper", "Ida"]],
    "report": [
        ["report", "ROOM"],
        ["report", "ROOM", "--week", "2026-10-12"],
        ["report", "ROOM", "--week", "2026-11-25"],
    ],
    "missed": [["missed", "ROOM", "--since", "2026-11-01", "--now", "2027-02-25T07:05"], ["missed", "ROOM"]],
    "chores": [["chores", "ROOM"]],
    "flags": [["flags", "ROOM"]],
    "changed": [["changed", "ROOM", "w12"]],
    "lives": [["lives", "ROOM"], ["lives", "ROOM", "w6"], ["lives", "ROOM", "w12"]],
    "expected": [["expected", "ROOM"]],
    "survival": [["survival", "ROOM"], ["survival", "ROOM", "--by", "feeding"]],
    "lines": [["lines", "ROOM"]],
    "stock": [["stock", "ROOM"]],
    "water": [["water", "ROOM", "w12"], ["water", "ROOM", "--sources"]],
    "topoff": [["topoff", "ROOM", "w12"], ["topoff", "ROOM", "w6", "--litres", "2"]],
    "makeup": [["makeup", "ROOM", "--rack", "window"], ["makeup", "ROOM"]],
    "doctor": [["doctor", "ROOM"]],
}
"""By command: words that together print every part of its document at least once."""
BEFORE: Final = (
    ["give", "ROOM", "w12", "plain", "--anyway"],
    ["saw", "ROOM", "w12", "sold", "--heads", "2", "--grade", "A"],
    ["saw", "ROOM", "w12", "moved", "--heads", "2", "--grade", "A", "--to", "w6", "--line", "dark"],
    ["saw", "ROOM", "w12", "count", "--heads", "90", "--anyway"],
    ["seen", "ROOM", "w12", "deaths"],
    ["opened", "ROOM", "plain", "--lot", "K 7"],
    ["pour", "ROOM", "w12", "mixed=2", "--on", "2026-10-25"],
    ["pour", "ROOM", "w12", "mixed=2", "--salt", "gh-salt=0.3", "--on", "2026-11-10"],
)
BANDS: Final = {
    "w12": "bands = { tds = { low = 160, high = 220, daily = 15 } }\n",
    "w6": "bands = { gh = { low = 5, high = 7 } }\nwater = { gh = 4 }\n",
}
AMMONIA: Final[dict[Quantity, float]] = {"ammonia": 0.4, "ph": 7.2, "temperature": 24.0}
SOLIDS: Final = ((20, 260.0), (5, 285.0))
"""Days before now, and what was read in w12: above its band, and rising."""


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Path:
    room_file = tmp_path_factory.mktemp("formats") / "demo.toml"
    make_demo(room_file, Options(room_file, now=datetime.fromisoformat(NOW)))
    text = room_file.read_text(encoding="utf-8")
    text = text.replace('id = "w12"\n', 'id = "w12"\nline = "amber"\ngeneration = 4\n' + BANDS["w12"])
    text = text.replace('id = "w6"\n', 'id = "w6"\n' + BANDS["w6"])
    room_file.write_text(text, encoding="utf-8")
    for words in BEFORE:
        assert run([*_placed(words, room_file), "--now", NOW]) == 0, words
    with open_session(Options(room_file, now=datetime.fromisoformat(NOW)), "nothing") as session:
        for back, solids in SOLIDS:
            session.read_water("w12", {"tds": solids}, day=session.day - timedelta(days=back), anyway=True)
        for back in range(2, 30, 4):
            session.read_water("w6", {"kh": 3 + back / 10}, day=session.day - timedelta(days=back), anyway=True)
        session.read_water("w12", AMMONIA, anyway=True)
    return room_file


@pytest.mark.parametrize("command", FORMATS)
def test_what_is_printed_follows_the_schema_in_every_part(
    command: str, demo: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    model, validator, met = _model(command), _validator(command), set[str]()
    for document in _printed(command, demo, capsys):
        validator.validate(json.loads(document))
        met |= {type(part).__name__ for part in _parts(model.model_validate_json(document))}

    defined = {name for name, part in validator.schema.get("$defs", {}).items() if part["type"] == "object"}
    assert defined - met == set(), "no output shows these parts: add words to OUTPUTS that do"


@pytest.mark.parametrize("command", FORMATS)
def test_a_key_more_or_less_is_no_such_document(command: str, demo: Path, capsys: pytest.CaptureFixture[str]) -> None:
    validator = _validator(command)
    document = json.loads(next(_printed(command, demo, capsys)))
    for key in document:
        with pytest.raises(ValidationError):
            validator.validate({each: document[each] for each in document if each != key})
    with pytest.raises(ValidationError):
        validator.validate(document | {"more": 1})
    with pytest.raises(ValidationError):
        validator.validate(document | {"format": "rackround-other/1"})


def test_every_command_that_prints_json_has_a_schema_and_an_output_here() -> None:
    assert set(FORMATS) == Words().commands.json
    assert set(OUTPUTS) == set(FORMATS)


@pytest.mark.parametrize("command", FORMATS)
def test_the_published_schema_is_up_to_date_else_run_the_module_formats(command: str) -> None:
    assert (FOLDER / f"{command}.json").read_text(encoding="utf-8") == schema_text(command)


def test_no_schema_is_left_over_and_each_is_sound() -> None:
    assert {path.stem for path in FOLDER.glob("*.json")} == set(FORMATS)
    for command in FORMATS:
        Draft202012Validator.check_schema(json.loads(schema_text(command)))


def _model(command: str) -> type[BaseModel]:
    module, name = FORMATS[command].split(":")
    found: type[BaseModel] = getattr(import_module(module), name)
    return found


def _validator(command: str) -> Any:
    schema = json.loads((FOLDER / f"{command}.json").read_text(encoding="utf-8"))
    return Draft202012Validator(schema, format_checker=Draft202012Validator.FORMAT_CHECKER)


def _printed(command: str, demo: Path, capsys: pytest.CaptureFixture[str]) -> Iterator[str]:
    for words in OUTPUTS[command]:
        capsys.readouterr()
        now = [] if "--now" in words else ["--now", NOW]
        assert run([*_placed(words, demo), "--json", *now]) == 0
        yield capsys.readouterr().out


def _placed(words: list[str], room_file: Path) -> list[str]:
    return [str(room_file) if word == "ROOM" else word for word in words]


def _parts(value: object) -> Iterator[BaseModel]:
    """All models inside one, itself first."""
    if isinstance(value, BaseModel):
        yield value
        for name in type(value).model_fields:
            yield from _parts(getattr(value, name))
    elif isinstance(value, dict):
        for each in value.values():
            yield from _parts(each)
    elif isinstance(value, list):
        for each in value:
            yield from _parts(each)
