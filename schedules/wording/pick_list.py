"""The pick list in words: what to take, weigh, mix and carry before a round."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from datetime import date
from typing import Final

from schedules.amounts.mixing import Pick
from schedules.amounts.ration.steps import Value
from schedules.formatting import amount_text, counted, date_text, mg_text, minutes_text, number_text
from schedules.ledger import PostedServing
from schedules.room import Feed, Room
from schedules.round import RoundSheet
from schedules.wording.hand import dry_text

OWN_TOOLS: Final = "Quarantine's own net, tongs, syringe and cup, which go nowhere else"
SHAKE: Final = "Shake each bottle before every dose, and throw away what is left after its time."


def length_lines(sheet: RoundSheet, servings: Sequence[PostedServing], before: float) -> Iterator[str]:
    """How long the whole round takes: feeding, minutes `before` it; in a second line with the chores, if any."""
    feeding = sum(serving.minutes for stop in sheet.stops for serving in stop.servings)
    tanks = counted(len({serving.tank for serving in servings}), "tank")
    many = counted(len(servings), "serving")
    yield f"{many} in {tanks}, about {minutes_text(feeding)} at the tanks, {minutes_text(before)} before"
    chores = [each.chore.minutes for stop in sheet.stops for each in stop.chores]
    if chores:
        yield f"{counted(len(chores), 'chore')} on the same walk: about {minutes_text(feeding + sum(chores))} in all"


def pick_text(room: Room, pick: Pick) -> str:
    """One line of the pick list."""
    if pick.code == "shake":
        return SHAKE
    if pick.code == "own_tools":
        tools = room.quarantine.tools
        return f"Quarantine's own tools, which go nowhere else: {tools}" if tools else OWN_TOOLS
    feed, said = room.feeds[pick.feed or ""], pick.values
    texts: Mapping[str, Callable[[], str]] = {
        "take": lambda: _take_text(room, feed, said),
        "cup": lambda: f"{feed.name} for {_day(said)}: {_mass_text(feed, said)} into a cup, labelled",
        "fresh": lambda: f"{feed.name} for today, not weighed ahead: {_mass_text(feed, said)}",
        "fill": lambda: _fill_text(room, feed, said),
        "class": lambda: f"{feed.name}: {_class_text(said)} for {said['tanks']}",
        "inexact": lambda: (
            f"{feed.name}, {said['tank']}: {float(said['ml']):g} mL is only good to ± {said['error'] * 100:.0f} %"
        ),
        "bottle": lambda: f"{feed.name}: the bottle{_tools_text(said)}",
        "pour": lambda: f"{feed.name}: pour {float(said['ml']):.3g} mL into quarantine's cup beforehand",
        "dry": lambda: f"{feed.name}: {dry_text(feed, float(said['mg']), room.tools)}",
    }
    return texts[pick.code]()


def _take_text(room: Room, feed: Feed, said: Mapping[str, Value]) -> str:
    count = "1 tank" if said["tanks"] == 1 else f"{said['tanks']} tanks"
    return f"{feed.name} for {count}" if room.tools.plain else f"{feed.name}: {mg_text(float(said['mg']))} for {count}"


def _day(said: Mapping[str, Value]) -> str:
    return date_text(date.fromisoformat(str(said["day"])))


def _mass_text(feed: Feed, said: Mapping[str, Value]) -> str:
    if "measures" in said:
        return amount_text(float(said["measures"]), feed.measure.name)
    return f"{float(said['mg']) / 1000:.2f} g"


def _fill_text(room: Room, feed: Feed, said: Mapping[str, Value]) -> str:
    hours = float(said["hours"])
    until = f"for {number_text(hours)} hours" if hours else "today only"
    made = date_text(date.fromisoformat(str(said["made_on"])))
    strength = "" if room.tools.plain else f"{number_text(float(said['mg_per_ml']))} mg/mL, "
    cup = "" if said["weighed_on"] == said["made_on"] else f" (weighed {_weighed(said)})"
    return (
        f"{feed.name}: {_mass_text(feed, said)}{cup} filled up to {float(said['water_ml']):g} mL with tank water; "
        f"label: {strength}made {made}, good {until}"
    )


def _weighed(said: Mapping[str, Value]) -> str:
    return date_text(date.fromisoformat(str(said["weighed_on"])))


def _class_text(said: Mapping[str, Value]) -> str:
    fills = "" if said["times"] == 1 else f"{said['times']} × "
    kind = "syringe" if said["syringe"] else "cup"
    return f"{fills}{number_text(float(said['ml']))} mL ({number_text(float(said['vessel_ml']))} mL {kind})"


def _tools_text(said: Mapping[str, Value]) -> str:
    kinds = [f"{name} of {said[key]} mL" for name, key in (("syringes", "syringes"), ("cups", "cups")) if said[key]]
    return "".join(f", {kind}" for kind in kinds)
