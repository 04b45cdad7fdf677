"""`rackround lines`: what each line did in a year."""

from __future__ import annotations

from argparse import Namespace
from collections.abc import Sequence
from typing import Any

from schedules.ledger.entries.animals.sighting import SIGHTING
from schedules.review.lines import Grade, LineYear, Move, Tally, lines_in
from schedules.wording.animals.lines import NO_LINES, line_text, year_texts
from tui.cli.fault import OK, CommandFault
from tui.cli.options import Options
from tui.cli.out import say, say_json
from tui.cli.session import open_session


def print_lines(options: Options, asked: Namespace) -> int:
    """Print each line's hatches, young, grades, deaths and moves of a year."""
    with open_session(options, "nothing") as session:
        year = asked.year or session.day.year
        found = lines_in(session.ledger.of_kind(SIGHTING.name), session.file_room, year)
        lines = found if asked.line is None else _named(found, asked.line)
        if asked.json:
            say_json({"format": "rackround-lines/1", "year": year, "lines": [_line_json(each) for each in lines]})
        elif not any(each.line for each in lines):
            say(NO_LINES)
        else:
            _print(session.file_room.name, year, lines)
    return OK


def _named(found: Sequence[LineYear], name: str) -> list[LineYear]:
    known = [each.line for each in found if each.line]
    if name not in known:
        allowed = ", ".join(f'"{each}"' for each in known) or f"none: {NO_LINES}"
        raise CommandFault(f'--line: found "{name}", allowed is {allowed}')
    return [each for each in found if each.line == name]


def _print(room: str, year: int, lines: Sequence[LineYear]) -> None:
    say(f"{room}, {year}")
    for line in lines:
        say(line_text(line))
        for text in year_texts(line):
            say(f"  {text}")


def _line_json(year: LineYear) -> dict[str, Any]:
    return {
        "line": year.line,
        "tanks": [{"tank": tank, "generation": generation} for tank, generation in year.tanks],
        "hatches": year.hatches,
        "young": _tally_json(year.young),
        "added": _tally_json(year.added),
        "dead": _tally_json(year.dead),
        "grades": [_grade_json(name, grade) for name, grade in year.grades.items()],
        "moves": [_move_json(each) for each in year.moves],
    }


def _grade_json(name: str | None, grade: Grade) -> dict[str, Any]:
    tallies = {"kept": grade.kept, "culled": grade.culled, "sold": grade.sold}
    return {"grade": name, **{fate: _tally_json(tally) for fate, tally in tallies.items()}}


def _tally_json(tally: Tally) -> dict[str, Any]:
    return {"heads": tally.number, "exact": tally.exact, "least": tally.least, "most": tally.most}


def _move_json(move: Move) -> dict[str, Any]:
    return {
        "date": move.day.isoformat(),
        "from": move.tank,
        "to": move.to,
        "stage": move.stage,
        **_tally_json(Tally().plus(move.heads)),
        "grade": move.grade,
        "from_line": move.parent,
        "line": move.line,
        "generation": move.generation,
    }
