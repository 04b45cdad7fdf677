"""`rackround new`: write a first room file, asking a few questions."""

from __future__ import annotations

import os
from argparse import Namespace
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any, Final

from schedules.room_file.show import quoted
from schedules.room_file.starter import AnswerFault, StarterAnswers, starter_text
from tui.cli.fault import OK, CommandFault
from tui.cli.options import Options
from tui.cli.out import say


@dataclass(frozen=True, slots=True)
class Question:
    """One question: which answer it is, what is asked, how the answer is read and how the usual one is shown."""

    field: str
    text: str
    read: Callable[[str], Any] = str
    show: Callable[[Any], str] = str


def _yes(text: str) -> bool:
    return _one_of(text, {"yes": True, "y": True, "no": False, "n": False}, "yes or no")


def _us(text: str) -> bool:
    return _one_of(text, {"metric": False, "us": True}, "metric or us")


def _one_of(text: str, known: Mapping[str, bool], allowed: str) -> bool:
    try:
        return known[text.casefold()]
    except KeyError:
        raise AnswerFault(f"found {quoted(text)}, allowed: {allowed}") from None


def _whole(text: str) -> int:
    try:
        return int(text)
    except ValueError:
        raise AnswerFault(f"found {quoted(text)}, allowed is a whole number, as in 4") from None


def _number(text: str) -> float:
    try:
        return float(text.replace(",", "."))
    except ValueError:
        raise AnswerFault(f"found {quoted(text)}, allowed is a number, as in 54") from None


QUESTIONS: Final = (
    Question("name", "What is the room called"),
    Question("time_zone", "Its time zone"),
    Question("us", "Units, metric or us", _us, lambda us: "us" if us else "metric"),
    Question("keeper", "Who walks the round"),
    Question("racks", "How many racks", _whole),
    Question("tanks_per_rack", "How many tanks on each", _whole),
    Question("volume", "The volume of a usual tank, in litres or US gallons", _number, lambda volume: f"{volume:g}"),
    Question(
        "known",
        "Do they already eat these: powder, pellets, protein, leaves (yes or no)",
        _yes,
        lambda known: "yes" if known else "no",
    ),
)


def write_starter(options: Options, asked: Namespace) -> int:
    """Write a commented room file where there is none yet."""
    path = options.room_file
    if path.exists():
        raise CommandFault(f"{path} exists already and was left as it is; name another file")
    if not path.absolute().parent.is_dir():  # checked before anything is asked
        raise CommandFault(f"{path}: cannot be written: there is no folder {path.absolute().parent}")
    answers = StarterAnswers(time_zone=local_zone())
    if not asked.yes:
        answers = _ask(answers)
    try:
        with path.open("x", encoding="utf-8") as file:
            file.write(starter_text(answers))
    except OSError as fault:
        raise CommandFault(f"{path}: cannot be written: {fault.strerror}") from None
    say(f"{path} is written. Open it in an editor, name the tanks and say what lives in them, then:")
    say(f"  rackround check {path}")
    say(f"  rackround {path}")
    return OK


def _ask(answers: StarterAnswers) -> StarterAnswers:
    """Ask each question until its answer can be used; an empty answer takes the usual one."""
    say("Enter takes what stands in brackets. Everything can be changed in the file later.")
    for question in QUESTIONS:
        answers = _answered(question, answers)
    return answers


def _answered(question: Question, answers: StarterAnswers) -> StarterAnswers:
    usual = question.show(getattr(answers, question.field))
    while True:
        try:
            typed = input(f"{question.text} [{usual}]: ").strip()
        except EOFError:
            raise CommandFault("no answer; --yes takes the usual ones without asking") from None
        if not typed:
            return answers
        try:
            return replace(answers, **{question.field: question.read(typed)})
        except AnswerFault as fault:
            say(f"  {fault}")


def local_zone() -> str:
    """The machine's time zone by name, UTC where it does not say."""
    named = os.environ.get("TZ", "").lstrip(":")
    linked = Path("/etc/localtime")
    parts = linked.resolve().parts if linked.is_symlink() else ()
    if "zoneinfo" in parts:
        named = named or "/".join(parts[parts.index("zoneinfo") + 1 :])
    try:
        StarterAnswers(time_zone=named or "Etc/UTC")
    except AnswerFault:
        return "Etc/UTC"
    return named or "Etc/UTC"
