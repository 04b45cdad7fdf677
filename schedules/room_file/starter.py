"""The file that a new room starts from: written once, commented, small enough to read at a glance.

The text is put together from answers; every value the keeper gave is written by tomli_w, so that no answer can break
the file.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any, Final

import tomli_w

from schedules.room import Units
from schedules.room.units import fahrenheit_from_celsius, litres_from_gallons, mg_per_litre_from_degrees, number_text
from schedules.room_file.checks import is_time_zone, zone_meant
from schedules.room_file.schema.scalars import read_text
from schedules.room_file.show import quoted

MOST_RACKS: Final = 20
MOST_TANKS: Final = 50
"""Of one rack."""
_ADULTS_PER_LITRE: Final = 0.5
"""Head count to start from where nothing was counted. Common practice, no source."""


class AnswerFault(ValueError):
    """An answer that no room file can be made from; the text says what was found and what is allowed."""


@dataclass(frozen=True, slots=True)
class StarterAnswers:
    """What `rackround new` asks.

    `volume` is that of a typical tank, in litres or (with `us`) US gallons; `known` says that the animals already eat
    the feeds in the file.

    Raises `AnswerFault` for the first answer that cannot be used, so that each can be tried as soon as it is given.
    """

    name: str = "My shrimp room"
    time_zone: str = "Etc/UTC"
    us: bool = False
    hardness_mg_per_litre: bool = False
    keeper: str = "Me"
    racks: int = 1
    tanks_per_rack: int = 4
    volume: float = 54.0
    known: bool = False

    def __post_init__(self) -> None:
        for what, text in (("name", self.name), ("keeper", self.keeper)):
            try:
                read_text(text)
            except ValueError:
                raise AnswerFault(f"{what}: found {quoted(text)}, allowed is a text of 1 to 200 characters") from None
        if not is_time_zone(self.time_zone):
            allowed = f'the name of a time zone, as in "Europe/Vienna"{zone_meant(self.time_zone)}'
            raise AnswerFault(f"time zone: found {quoted(self.time_zone)}, allowed is {allowed}")
        for what, number, most in (("racks", self.racks, MOST_RACKS), ("tanks", self.tanks_per_rack, MOST_TANKS)):
            if not 1 <= number <= most:
                raise AnswerFault(f"{what}: found {number}, allowed is a whole number from 1 to {most}")
        if not 1 <= self.volume <= 5000:
            raise AnswerFault(f"volume: found {self.volume:g}, allowed is a volume from 1 to 5000")


def starter_text(answers: StarterAnswers) -> str:
    """A commented room file for the answers given."""
    return "".join((_head(answers), _feeds(answers), *_racks(answers), _tail(answers)))


def _head(answers: StarterAnswers) -> str:
    temperature, volume = ("°F", "US gallons") if answers.us else ("°C", "litres")
    hardness = "mg/L" if answers.hardness_mg_per_litre else "degrees"
    return f"""\
# A room for Rackround. Change what is not so; lines that begin with # are remarks.
# Whatever is left out is taken as is usual for the kind of feed. `rackround check` tells what cannot be read.

{_set(name=answers.name)}\
{_set(time_zone=answers.time_zone)}\
{_set(units="us" if answers.us else "metric")[:-1]} # {volume} and {temperature}
{_set(hardness=hardness)[:-1]} # of gh and kh

[[keepers]]
{_set(name=answers.keeper)}\
# days_off = ["sunday", 2026-12-24, {{ from = 2027-02-01, to = 2027-02-14 }}]

# One round a day. For a second one add another table of this kind and say round = "evening" with its feeds.
[[rounds]]
id = "morning"
at = 07:00:00

# Chores on the same walk, two of the usual ones; `from` is the first day.
# [[chores]]
# template = "top_off"
# from = 2026-12-01
# [[chores]]
# template = "wipe_front"
# from = 2026-12-01

# What is read in the water, and between which values a quantity is to stay.
# [water.bands.tds]
# low = 150
# high = 200
"""


def _feeds(answers: StarterAnswers) -> str:
    known = "known = true" if answers.known else "known = false"
    remark = " # whether the animals already eat it; a new feed starts at half"
    return _FEEDS.replace("KNOWN", f"{known}{remark}", 1).replace("KNOWN", known)


_FEEDS: Final = """
# The feeds in stock. Kinds: biofilm, powder and suspension are fine; mineral, staple, protein and greens are solid.

[[feeds]]
id = "powder"
name = "Shrimplet powder"
kind = "powder"
KNOWN
measure = { name = "spoon", mg = 60, step = 0.25 } # weigh ten level spoons once and divide by ten

[[feeds]]
id = "pellet"
name = "Plain pellets"
kind = "staple"
KNOWN
measure = { name = "pellet", mg = 10, step = 0.5 }

[[feeds]]
id = "protein"
name = "Protein pellets"
kind = "protein"
KNOWN
# per_week = 1
# max_gap = 9

[[feeds]]
id = "leaf"
name = "Dried leaves"
kind = "greens"
extra = true # something to graze on, given by the piece outside the ration
KNOWN

# The racks, each with its tanks in the order you walk past them. Heads are counted roughly: set them right.
"""


def _racks(answers: StarterAnswers) -> Iterator[str]:
    for rack in range(1, answers.racks + 1):
        yield f'\n[[racks]]\nid = "rack-{rack}"\n'
        for tank in range(1, answers.tanks_per_rack + 1):
            yield _tank(answers, f"{rack}-{tank}")


def _tank(answers: StarterAnswers, id_: str) -> str:
    litres = litres_from_gallons(answers.volume) if answers.us else answers.volume
    adults = max(5, round(litres * _ADULTS_PER_LITRE))
    return f"""
[[racks.tanks]]
id = "{id_}"
volume = {number_text(answers.volume, 2)}
animals = [{{ stage = "adult", count = {adults} }}]
"""


def _tail(answers: StarterAnswers) -> str:
    units = Units(answers.us, answers.hardness_mg_per_litre)
    temperature = number_text(fahrenheit_from_celsius(23.5) if units.us else 23.5)
    gh, kh = (
        number_text(mg_per_litre_from_degrees(degrees) if units.hardness_mg_per_litre else degrees, 0)
        for degrees in (7, 3)
    )
    return f"""
# More that a tank may say, each line in the table of its tank:
# name = "Moss corner"
# place = "top shelf, left"
# surface = "still"          # or "rippled", "broken"
# grazing = "rich"           # algae, moss and film to graze: "poor", "fair", "rich"
# rest = "sunday"            # no solid feed on this day
# quarantine = true          # fed last, nothing carried out of it
# quarantine_days = 30       # counted from the last animals that came in; without it a quarantine does not end
# line = "dark"              # the line it breeds, in your own words, and its generation
# generation = 3
# water = {{ temperature = {temperature}, ph = 7.2, gh = {gh}, kh = {kh}, tds = 180 }}
# feeds = ["powder", "leaf"] # only these
# animals = [
#     {{ stage = "adult", count = 24, berried = 3 }},
#     {{ stage = "shrimplet", count = 30, from = 2026-12-01, to = 2027-01-10 }},
# ]
# [racks.tanks.overrides.powder]
# max_gap = 2
"""


def _set(**values: Any) -> str:
    """A key and its value as a line of TOML."""
    return tomli_w.dumps(values)
