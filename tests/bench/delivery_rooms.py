"""Rooms for the measurements of what is delivered: the demo's, the starter's, and some made up here, as room files."""

from __future__ import annotations

import random
from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from typing import Final

from demo_racks import ROOMS, room_path
from demo_racks.fresh import fresh_text
from schedules.room import Room
from schedules.room_file import load_room_text
from schedules.room_file.starter import StarterAnswers, starter_text

START: Final = date(2026, 11, 23)
"""A Monday, so that weeks are whole."""
KINDS: Final = ("biofilm", "powder", "suspension", "mineral", "staple", "protein", "greens")
DISPLAY: Final = (
    'id = "d1"\nname = "Display"\nvolume = 1800\ngrazing = "rich"\nanimals = [{ stage = "adult", count = 1500 }, '
    '{ stage = "juvenile", count = 1500 }, { stage = "shrimplet", count = 1000 }, '
    '{ stage = "filter_feeder", count = 30 }]'
)
TWELVE: Final = (
    *((25, "fair", "", (("adult", 30), ("juvenile", 20), ("shrimplet", 40))) for _ in range(8)),
    (20, "fair", "", (("shrimplet", 150),)),
    (20, "poor", "", (("shrimplet", 80), ("juvenile", 40))),
    (30, "poor", "quarantine = true", (("adult", 15),)),
    (12, "poor", "", (("adult", 4),)),
)
"""Litres, grazing, more lines and animals of a rack with a nursery and a hospital; quarantine goes last."""


def rooms(seeds: int) -> Iterator[tuple[str, Room]]:
    """Each room with its name. Feeds count as known, so that no caution about new ones is measured."""
    for name in ROOMS:
        yield name, _room(fresh_text(room_path(name).read_text(encoding="utf-8"), START))
    yield "starter", _room(starter_text(StarterAnswers()))
    yield "display of 1,800 L", _room(_text(dict.fromkeys(KINDS, 1), [DISPLAY]))
    twelve = (_tank(f"t{number}", *tank) for number, tank in enumerate(TWELVE, 1))
    yield "rack of twelve", _room(_text(dict.fromkeys(KINDS[:2] + KINDS[3:], 1), twelve))
    for seed in range(seeds):
        yield f"random, {seed}", _room(_random_text(random.Random(seed)))


def _room(text: str) -> Room:
    room = load_room_text(text, "room.toml")
    return replace(room, feeds={name: replace(feed, known=True) for name, feed in room.feeds.items()})


def _text(products: dict[str, int], tanks: Iterator[str] | list[str]) -> str:
    feeds = (
        f'[[feeds]]\nid = "{kind}{number}"\nname = "{kind} {number}"\nkind = "{kind}"'
        for kind, count in products.items()
        for number in range(count)
    )
    head = 'name = "made up"\ntime_zone = "Europe/Vienna"\n[[keepers]]\nname = "Mara"'
    racks = '[[racks]]\nid = "wall"\nname = "Wall"'
    return "\n".join([head, *feeds, racks, *(f"[[racks.tanks]]\n{tank}" for tank in tanks)])


def _tank(name: str, litres: int, grazing: str, more: str, animals: tuple[tuple[str, int], ...]) -> str:
    here = ", ".join(f'{{ stage = "{stage}", count = {count} }}' for stage, count in animals)
    return f'id = "{name}"\nname = "{name}"\nvolume = {litres}\ngrazing = "{grazing}"\n{more}\nanimals = [{here}]'


def _random_text(rng: random.Random) -> str:
    """Twelve tanks of any animals, one to five products of each kind."""
    tanks = []
    for number in range(12):
        stages = rng.sample(("adult", "juvenile", "shrimplet", "filter_feeder"), rng.randint(1, 3))
        most = {stage: 8 if stage == "filter_feeder" else 120 for stage in stages}
        animals = tuple((stage, rng.randint(2, most[stage])) for stage in stages)
        litres, grazing = rng.choice((12, 25, 45, 90)), rng.choice(("poor", "fair", "rich"))
        tanks.append(_tank(f"t{number}", litres, grazing, "", animals))
    return _text({kind: rng.randint(1, 5) for kind in KINDS}, tanks)
