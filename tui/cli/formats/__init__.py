"""What `--json` prints: one model for each command, from which the JSON Schemas in `schemas` are made.

A command that prints JSON is added here in two steps: a model in a file of this folder (or a new one), and its line in
`FORMATS`. Then `python -m tui.cli.formats` writes the schema, and `tests/cli/test_formats.py` holds a real output
against it. Nothing here is loaded by the program: the models describe, they do not print.
"""

from typing import Final

FORMATS: Final = {
    "plan": "tui.cli.formats.plan:Plan",
    "round": "tui.cli.formats.rounds:Round",
    "prepare": "tui.cli.formats.rounds:Prepare",
    "lookback": "tui.cli.formats.rounds:LookBack",
    "leave": "tui.cli.formats.leave:Leave",
    "report": "tui.cli.formats.report:Report",
    "chores": "tui.cli.formats.chores:Chores",
    "missed": "tui.cli.formats.review:Missed",
    "flags": "tui.cli.formats.review:Flags",
    "changed": "tui.cli.formats.review:Changed",
    "lives": "tui.cli.formats.animals:Lives",
    "expected": "tui.cli.formats.animals:ExpectedHatches",
    "survival": "tui.cli.formats.animals:Survival",
    "lines": "tui.cli.formats.animals:Lines",
    "stock": "tui.cli.formats.stock:Stock",
    "water": "tui.cli.formats.water:WaterNow",
    "topoff": "tui.cli.formats.makeup:TopOff",
    "makeup": "tui.cli.formats.makeup:MakeUp",
    "doctor": "tui.cli.formats.software:Doctor",
}
"""By command: the model of the document that it prints."""
