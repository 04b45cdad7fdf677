"""Amounts, their arithmetic, the pick list and looks back in words."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Final

from schedules.amounts.mixing import LookBack
from schedules.amounts.mixing.look_back import Look
from schedules.amounts.ration import DrawOff, Remaining, Step
from schedules.amounts.ration.steps import Value
from schedules.formatting import amount_text, counted, mg_text, number_text
from schedules.ledger import Reason
from schedules.room import Feed, Room, Vessel
from schedules.room.kinds import Stage
from schedules.wording.entries import feed_name
from schedules.wording.hand import dry_text

STAGES: Final[dict[Stage, str]] = {
    "shrimplet": "shrimplets",
    "juvenile": "juveniles",
    "adult": "adults",
    "filter_feeder": "filter feeders",
}
SOURCES: Final[dict[str, str]] = {
    "lines": "the lines above",
    "room_file": "the room file",
    "ledger": "the ledger; the steps are common practice, no source",
    "plan": "the plan, or the feed's rules",
    "label": "the label, or common practice by kind",
    "measured": "what a hand can measure",
    "common": "common practice, no source",
    "length_measured": "measured by the keeper",
    "length_age": "length by age at 24 to 28 °C: 2.3 mm at hatch and 18.5 mm at 75 days (Nur and Christianus 2013)",
    "length_slow_age": "length by age, the slow curve below 24 °C; no temperature law is published",
    "length_stage": "usual at this stage; common practice, no source",
    "allometry": "0.009 mg × length³, between 0.0065 and 0.0155 in published slender freshwater shrimp",
    "atya": "mean of both sexes of Atya margaritacea (Sanchez Palacios and others 2008)",
    "need": "0.19 mg × mass^0.60 a day; agrees with rations of post-larvae, laboratory and broodstock",
    "fan_ration": "1 % of body mass a day; no ration for fan feeders is published",
    "q10": "oxygen use, Q10 2.10 from 12 to 30 °C (Liu and others 2010); appetite was not measured",
    "grazing": "judgement; biofilm alone has carried a whole life cycle (Viau and others 2020)",
    "ceiling": "policy: 0.04 mg/L (new tank) or 0.2 mg/L (mature) of ammonia nitrogen a day before any filter",
}
SIDES: Final[dict[str, str]] = {
    "need": "what they need",
    "floor": "the least that can be met with in the water",
    "ceiling": "the most the water may take",
    "label": "the label's amount",
}
LOOKS: Final[dict[Look, str]] = {
    "gone": "{feed} should be gone",
    "take_out": "{feed}: take out what is left of the piece, it is large for this tank",
    "under": "{feed} should have gone under the {surface} surface",
    "clear": "the water should be clear again after {feed}",
}
SPOT: Final = "at one spot, away from where the powder goes"


def vessel_text(vessel: Vessel) -> str:
    """A vessel by its size: `5 mL syringe`."""
    return f"{number_text(vessel.ml)} mL {'syringe' if vessel.syringe else 'cup'}"


def reason_text(room: Room, reason: Reason) -> str:
    """Why an amount is not the usual one."""
    said = reason.named()
    level = f"{said['level'] * 100:.0f} %" if "level" in said else ""
    texts: dict[str, str] = {
        "new_feed": f"new feed: {level} of a full serving",
        "new_tank": f"new tank: {level} of a full serving",
        "known_feed": "they eat this already: a full serving",
        "full": "a full serving",
        "was_left": f"{said.get('left')} was left of the last one: {level} of a full serving",
        "nobody_came": f"nobody came to the last one: {level} of a full serving",
        "after_servings": f"{level} of a full serving after {said.get('servings')} servings",
        "nobody": "nobody here to feed",
        "smallest_part": "the smallest piece is more than a serving, so it is given less often",
        "ground": "less than the smallest piece: ground into a mix",
        "draws": "a piece for every so many adults, so that they leave the powder",
        "held": f"most of {feed_name(room, str(said.get('feed')))} was left",
        "took": "others already took their part of today",
    }
    return texts[reason.code]


def remaining_text(room: Room, feed: str, left: Remaining) -> str:
    """What is left of a serving and why, in one short sentence; empty where it is as due."""
    if left.reason is None:
        return ""
    amount = "nothing" if left.amount.mg <= 0 else _left_text(room, room.feeds[feed], left)
    if left.reason.code != "took":
        return f"{amount}: {reason_text(room, left.reason)}"
    names = " and ".join(f"{feed_name(room, each)} already took {number_text(part)}" for each, part in left.took)
    return f"{amount}: {names} of today"


def _left_text(room: Room, feed: Feed, left: Remaining) -> str:
    if not left.amount.mixed:
        return dry_text(feed, left.amount.mg, room.tools)
    return amount_text(left.amount.measures, left.amount.unit) if room.tools.plain else mg_text(left.amount.mg)


def draw_off_text(room: Room, found: DrawOff) -> str:
    """What goes in first where adults and shrimplets share a tank on a day of powder."""
    adults = counted(found.adults, "adult")
    if found.feed is None:
        return f"nothing that draws is due: {adults} will share the powder"
    pieces = f"{found.pieces} piece{'' if found.pieces == 1 else 's'} or more"
    return f"{room.feeds[found.feed].name} first, in {pieces} for {adults}, {SPOT}"


def step_text(step: Step) -> str:
    """A line of arithmetic without its number."""
    said = step.values
    who = f"{said.get('count')} {STAGES[stage]}" if (stage := said.get("stage")) in STAGES else ""
    level = step.code.removeprefix("level_")
    texts: Mapping[str, Callable[[], str]] = {
        "length": lambda: f"{who}, length of each",
        "mass": lambda: f"{who}, mass of each" if said.get("stage") else "mass",
        "need_each": lambda: f"{who}, each needs a day",
        "temperature_unknown": lambda: "temperature never measured, taken as usual: times",
        "warmth": lambda: f"at {said['celsius']:.1f} °C: times",
        "fed_part": lambda: f"with {said['grazing']} grazing, to be fed: times",
        "needed": lambda: "they have to be fed",
        "needed_by_keeper": lambda: "they need, as set by the keeper",
        "floor": lambda: f"at least {number_text(float(said['per_litre']))} mg/L, so that it can be met with",
        "ceiling": lambda: f"at most {number_text(float(said['per_litre']))} mg/L for the water",
        "label": lambda: f"the label gives {number_text(float(said['per_litre']))} mg/L",
        "ration": lambda: f"ration of the day: {SIDES[str(said['side'])]}",
        "part": lambda: "part of the ration in this serving",
        "extra": lambda: "outside the ration; the label gives",
        "asked": lambda: "to be given",
        "note_smallest_part": lambda: "the smallest piece is more than that, so it is given less often",
        "note_ground": lambda: "less than the smallest piece: ground into a mix",
        "note_draws": lambda: "a piece for every so many adults",
        "note_nobody": lambda: "nobody here to feed",
        "rounded": lambda: "rounded by",
        "given": lambda: "given, by volume" if said.get("mixed") else "given",
    }
    if level != step.code:
        return _level_text(level, said)
    return texts[step.code]()


def _level_text(code: str, said: Mapping[str, Value]) -> str:
    return {
        "new_feed": "new feed: times",
        "new_tank": "new tank: times",
        "known_feed": "they eat this already: times",
        "full": "full servings left nothing: times",
        "was_left": f"{said.get('left')} was left of the last one: times",
        "nobody_came": "nobody came to the last one: times",
        "after_servings": f"after {said.get('servings')} servings: times",
    }[code]


def spread_text(step: Step) -> str:
    """How far off a number may be: `× or ÷ 1.7`, empty where it is exact or nothing is known."""
    return f"× or ÷ {number_text(step.times_off)}" if step.times_off > 1 else ""


def look_text(room: Room, look: LookBack) -> str:
    """What should be so by the time of a look back."""
    surface = room.tanks[look.tank].surface
    return LOOKS[look.look].format(feed=feed_name(room, look.feed), surface=surface)
