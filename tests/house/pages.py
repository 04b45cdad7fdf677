"""Pages of the documentation that are made from the program itself: keys, commands, the room file, words.

mkdocs calls `on_files` (`docs/mkdocs.yml`), so these pages cannot differ from the program that they describe.
"""

from __future__ import annotations

import re
from argparse import Action, ArgumentParser, _SubParsersAction
from collections.abc import Iterator
from pathlib import Path
from typing import Any, Final, get_args, get_origin

from mkdocs.config.defaults import MkDocsConfig
from mkdocs.structure.files import File, Files
from pydantic.fields import FieldInfo

from schedules.room_file.schema.base import Spec
from schedules.room_file.schema.room import RoomSpec
from schedules.room_file.schema.scalars import Allowed
from schedules.wording.glossary import PLAN_SIGNS, SIGNS, WORDS
from tui.acts import SUBJECTS, key_text
from tui.cli.formats import FORMATS
from tui.cli.formats.__main__ import schema_of
from tui.cli.parser import Words

ROOT: Final = Path(__file__).parents[2]
READMES: Final = {"amounts.md": "amounts", "plan.md": "planning", "ledger.md": "ledger", "water.md": "water"}
"""Pages that are a folder's own README.md, where the folder has one."""
COMMON: Final = ("now", "ledger", "keys", "by", "json", "help")


def on_files(files: Files, config: MkDocsConfig) -> Files:
    """Add the pages that are made from the program."""
    for name, text in made_pages().items():
        files.append(File.generated(config, name, content=text))
    return files


def made_pages() -> dict[str, str]:
    """Every page that is made, by the name of its file."""
    readmes = {name: ROOT / "schedules" / folder / "README.md" for name, folder in READMES.items()}
    return {
        "keys.md": "\n".join(keys_page()),
        "commands.md": "\n".join(commands_page()),
        "room_file.md": "\n".join(room_file_page()),
        "words.md": "\n".join(words_page()),
        "json.md": "\n".join(json_page()),
        **{name: path.read_text("utf-8") for name, path in readmes.items() if path.exists()},
    }


def keys_page() -> Iterator[str]:
    """Every act with its key and where it is open, by subject."""
    yield from (
        "# Keys",
        "",
        "`F1` shows those of the current screen. Any of them can be set to another key.",
    )
    for subject, acts in SUBJECTS:
        yield from ("", f"## {subject}", "", "| key | act | does | where |", "| --- | --- | --- | --- |")
        for act in acts:
            where = "everywhere" if len(act.places) > 10 else ", ".join(sorted(act.places)).replace("_", " ")
            yield f"| `{key_text(act.key)}` | {act.label} | {act.help} | {where} |"


def commands_page() -> Iterator[str]:
    """Every command with its own options, from the parser."""
    parser = Words().commands.parser
    yield from ("# Commands", "", "Exit codes: 0 done, 2 something is at fault, 3 refused by a rule.", "")
    yield from ("Every command also takes:", "", *_options(parser, all_=True))
    commands = next(action for action in parser._actions if isinstance(action, _SubParsersAction))
    for name, command in commands.choices.items():
        yield from ("", f"## {name}", "", f"{_sentence(command.description or '')}", "")
        yield from (f"    {_usage(name, command)}", "")
        yield from _options(command, all_=False)


def _usage(name: str, command: ArgumentParser) -> str:
    """A command with its own arguments, in the order in which they are written."""
    own = [action for action in command._actions if action.dest not in COMMON]
    words = ["rackround", name, *(_word(action) for action in own if not action.option_strings)]
    return " ".join([*words, *(_word(action) for action in own if action.option_strings)])


def _word(action: Action) -> str:
    """One argument as it is written; in brackets where it may be left out."""
    value = str(action.metavar or "|".join(map(str, action.choices or ())) or action.dest)
    if not action.option_strings:
        return f"[{value}]" if action.nargs == "?" else value
    text = action.option_strings[-1] + ("" if action.nargs == 0 else f" {value}")
    return text if action.required else f"[{text}]"


def _options(parser: ArgumentParser, *, all_: bool) -> Iterator[str]:
    for action in parser._actions:
        if isinstance(action, _SubParsersAction) or not action.help or (not all_ and action.dest in COMMON):
            continue
        name = ", ".join(action.option_strings) or str(action.metavar or action.dest)
        value = f" {action.metavar}" if action.option_strings and action.metavar else ""
        yield f"- `{name}{value}`: {_cell(action.help)}"


def _sentence(text: str) -> str:
    return text[:1].upper() + text[1:] + "."


def room_file_page() -> Iterator[str]:
    """Every table and key of a room file, and what is allowed in it."""
    yield from ("# The room file", "", "One TOML file. Keys that have a usual value may be left out.")
    seen: set[type[Spec]] = set()
    waiting: list[tuple[str, type[Spec]]] = [("", RoomSpec)]
    while waiting:
        path, spec = waiting.pop(0)
        if spec in seen:
            continue
        seen.add(spec)
        yield from ("", f"## {_title(path)}", "", " ".join((spec.__doc__ or "").split()), "")
        yield from ("| key | allowed | needed |", "| --- | --- | --- |")
        for name, field in spec.model_fields.items():
            key = field.alias or name
            inner = _inner(field.annotation)
            if inner is not None:
                waiting.append((f"{path}.{key}".lstrip("."), inner))
            needed = "yes" if field.is_required() else ""
            yield f"| `{key}` | {_allowed(field, inner)} | {needed} |"


def _title(path: str) -> str:
    return f"`{path}`" if path else "The whole file"


def _inner(annotation: Any) -> type[Spec] | None:
    """The table that a key holds, however many of it."""
    if isinstance(annotation, type) and issubclass(annotation, Spec):
        return annotation
    return next((found for each in get_args(annotation) if (found := _inner(each)) is not None), None)


def _allowed(field: FieldInfo, inner: type[Spec] | None) -> str:
    if inner is not None:
        return "table, see below"
    texts = [each.text for each in field.metadata if isinstance(each, Allowed)] or list(_texts(field.annotation))
    many = "several: " if get_origin(field.annotation) is tuple else ""
    return _cell(many + "; ".join(dict.fromkeys(texts))) if texts else "text"


def _texts(annotation: Any) -> Iterator[str]:
    for each in get_args(annotation):
        if isinstance(each, Allowed):
            yield each.text
        else:
            yield from _texts(each)


def json_page() -> Iterator[str]:
    """What `--json` prints, command by command, from the models that describe it."""
    yield from (
        "# What `--json` prints",
        "",
        "Each document names its `format`. The schemas (JSON Schema, draft 2020-12)",
    )
    yield from ("are part of the program, in `tui/cli/formats/schemas`.",)
    for command in FORMATS:
        schema = schema_of(command)
        yield from ("", f"## {command}", "", _cell(schema["description"]))
        parts = {command: schema, **schema.get("$defs", {})}
        for name, part in parts.items():
            yield from _json_part(name, part) if part.get("properties") else ()


def _json_part(name: str, part: dict[str, Any]) -> Iterator[str]:
    about = "" if "$schema" in part else f"`{name}`: {_cell(part.get('description', ''))}"
    yield from ("", about, "", "| key | type | |", "| --- | --- | --- |")
    for key, value in part["properties"].items():
        yield f"| `{key}` | {_cell(_json_type(value))} | {_cell(value.get('description', ''))} |"


def _json_type(value: dict[str, Any]) -> str:
    if "anyOf" in value:
        return " or ".join(dict.fromkeys(_json_type(each) for each in value["anyOf"]))
    if "$ref" in value:
        return str(value["$ref"]).rpartition("/")[2]
    if "const" in value:
        return f'"{value["const"]}"'
    if "enum" in value:
        return ", ".join(f'"{each}"' for each in value["enum"])
    if value.get("type") == "array":
        return f"list of {_json_type(value['items'])}" if "items" in value else "list"
    if isinstance(value.get("additionalProperties"), dict):
        return f"object of {_json_type(value['additionalProperties'])}"
    return str(value.get("type", "anything"))


def words_page() -> Iterator[str]:
    """What words and signs mean."""
    yield "# Words and signs"
    for title, rows in (("Words", WORDS), ("Signs of the round", SIGNS), ("Signs of the plan", PLAN_SIGNS)):
        yield from ("", f"## {title}", "", "| | |", "| --- | --- |")
        yield from (f"| {_cell(sign)} | {_cell(meaning)} |" for sign, meaning in rows)


def _cell(text: str) -> str:
    """A text that stands in a table cell: no pipe ends it, nothing in it is taken for HTML."""
    return re.sub(r"([|<>*_])", r"\\\1", " ".join(text.split()))
