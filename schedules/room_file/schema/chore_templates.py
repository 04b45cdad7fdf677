"""The usual chores, each named by one word. How often and how long is common practice, no source."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final, Literal

from schedules.room.chores import DoneBy, Each, Order

TemplateName = Literal[
    "top_off",
    "read_water",
    "wipe_front",
    "rinse_sponge",
    "check_intakes",
    "trim_moss",
    "swap_tools",
    "calibrate_meters",
    "look_for_berried",
    "clean_dish",
]


@dataclass(frozen=True, slots=True)
class Template:
    """A usual chore: what a room file's table says where it says nothing else. Either `rule` or `every` is set."""

    name: str
    minutes: float
    note: str
    rule: str | None = None
    every: int | None = None
    within: int = 1
    each: Each = "tank"
    walk: Order | None = None
    quarantine: bool | None = None
    done_by: DoneBy | None = None


WEEKLY: Final = "FREQ=WEEKLY"
TEMPLATES: Final[Mapping[TemplateName, Template]] = {
    "top_off": Template(
        "Top off", 1, "pure water: what evaporates leaves its salts behind", every=3, within=2, done_by="water_added"
    ),
    "read_water": Template(
        "Read the water", 1, "with rinsed meters, quarantine last", rule=WEEKLY, within=7, done_by="reading"
    ),
    "wipe_front": Template("Wipe the front glass", 1, "the front only; algae elsewhere is food", rule=WEEKLY, within=7),
    "rinse_sponge": Template(
        "Rinse the sponge", 4, "in tank water, never under the tap; one sponge at a time", every=28, within=7
    ),
    "check_intakes": Template("Check the intake guard", 0.5, "nothing torn, no gap", rule=WEEKLY, within=7),
    "trim_moss": Template("Trim the moss", 5, "look through it for young before it goes", every=42, within=14),
    "swap_tools": Template(
        "Swap the quarantine tools",
        3,
        "net, tongs and hose into the bath, dry ones out",
        rule=WEEKLY,
        each="room",
        walk="after",
        quarantine=True,
    ),
    "calibrate_meters": Template(
        "Calibrate the meters", 8, "with fresh standard, never poured back", every=30, within=7, each="room"
    ),
    "look_for_berried": Template(
        "Look for berried females", 1, "write down what you see of the animals", rule=WEEKLY, within=7
    ),
    "clean_dish": Template("Clean the feeding dish", 0.5, "in tank water", rule=WEEKLY, within=7),
}
