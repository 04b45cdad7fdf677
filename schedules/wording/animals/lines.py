"""What a line did in a year, in plain English."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from schedules.formatting import counted, date_text
from schedules.review.lines import Grade, LineYear, Move, Tally

NO_LINES: Final = 'no tank has a line; `line = "NAME"` in the room file or --line of `rackround saw` gives it one'


def tally_text(tally: Tally) -> str:
    """A sum of heads, with its range where not all were counted."""
    return str(tally.number) if tally.exact else f"about {tally.number} ({tally.least} to {tally.most})"


def line_text(year: LineYear) -> str:
    """The line and its tanks."""
    tanks = ", ".join(
        tank if generation is None else f"{tank} (generation {generation})" for tank, generation in year.tanks
    )
    return (year.line or "no line") + (f": {tanks}" if tanks else "")


def year_texts(year: LineYear) -> Iterator[str]:
    """What it did, a line of text each."""
    if year.empty:
        yield "nothing written down"
    if year.hatches:
        hatches = "1 hatch" if year.hatches == 1 else f"{year.hatches} hatches"
        yield f"{hatches}, {tally_text(year.young)} young"
    if year.added.most:
        yield f"{tally_text(year.added)} new"
    for name, grade in sorted(year.grades.items(), key=lambda each: (each[0] is None, each[0] or "")):
        yield f"{'without a grade' if name is None else f'grade {name}'}: {grade_text(grade)}"
    if year.dead.most:
        yield f"{tally_text(year.dead)} found dead"
    yield from map(move_text, year.moves)


def grade_text(grade: Grade) -> str:
    """What became of the animals of a grade."""
    return f"{tally_text(grade.kept)} kept, {tally_text(grade.culled)} culled, {tally_text(grade.sold)} sold"


def move_text(move: Move) -> str:
    """A move with the line and the generation of the parents."""
    stage = move.stage.replace("_", " ")
    animals = counted(move.heads.number, stage) if move.heads.exact else f"{move.heads.text} {stage}s"
    parent = f"line {move.parent}" if move.parent else "no line"
    generation = "" if move.generation is None else f", generation {move.generation}"
    grade = f", grade {move.grade}" if move.grade else ""
    since = "" if move.line == move.parent else f", now line {move.line}"
    return f"{date_text(move.day)}: {animals} from {move.tank} ({parent}{generation}) to {move.to}{grade}{since}"
