"""`rackround completion`: the script by which a shell completes commands and options."""

from __future__ import annotations

from argparse import Action, ArgumentParser, Namespace, _SubParsersAction
from collections.abc import Iterator
from pathlib import Path

from tui.cli.fault import OK
from tui.cli.options import Options
from tui.cli.out import say
from tui.cli.parser import Words


def print_completion(_options: Options, asked: Namespace) -> int:
    """Print the completion script of a shell, made from the parser itself."""
    # Imported here and not above: no other command needs it.
    import shtab

    parser = Words().commands.parser
    for action in actions_of(parser):
        if action.type is Path:
            # shtab reads this attribute: names of files are completed.
            action.complete = shtab.FILE  # type: ignore[attr-defined]
    for line in shtab.complete(parser, shell=asked.shell).rstrip("\n").split("\n"):
        say(line.replace("\t", "    "))
    return OK


def actions_of(parser: ArgumentParser) -> Iterator[Action]:
    """Every option and argument of a parser and of its commands."""
    for action in parser._actions:
        yield action
        if isinstance(action, _SubParsersAction):
            for command in action.choices.values():
                yield from actions_of(command)
