"""One number for one serving: at the stop, in what was given, and in the bottle it comes from."""

from __future__ import annotations

from dataclasses import replace

from schedules.room import Measure
from schedules.round.doses import Doses, mix_round
from schedules.wording.doses import given_text, taken
from tests.amounts.rooms import TODAY, Past, due, make_feed, make_room, make_tank

DUST = make_feed("dust", "powder", measure=Measure("spoon", 60.0, 0.25))
WAFER = make_feed("wafer", "staple", breaks="crumb", measure=Measure("wafer", 60.0, 0.1))
FEEDS = (DUST, WAFER)
ROOM = make_room(FEEDS, make_tank("a1", FEEDS))
SERVINGS = (due("a1", DUST, 1.0, 20.0), due("a1", WAFER, 0.5, 12.0))


def doses(*, plain: bool = False) -> Doses:
    room = replace(ROOM, tools=replace(ROOM.tools, plain=plain, scale_mg=None if plain else 10.0))
    return mix_round(room, Past().posted(TODAY, SERVINGS).history(), TODAY, "morning")


def test_powder_is_told_in_millilitres_even_where_it_would_be_a_third_of_a_spoon() -> None:
    made = doses()
    strength = made.mg_per_ml("dust")
    assert strength is not None
    found = taken(made, SERVINGS[0])
    assert (found.amount, found.mixed, found.mg) == (f"{20 / strength:g} mL", True, "20 mg")
    assert given_text(made, SERVINGS[0]) == f"{20 / strength:g} mL of the mix (20 mg)"
    assert made.bottles[0].doses[0].mg == 20.0


def test_crumbs_of_a_wafer_are_told_as_crumbs_at_the_stop_and_afterwards() -> None:
    made = doses()
    assert taken(made, SERVINGS[1]).amount == "2 crumbs of wafer"
    assert given_text(made, SERVINGS[1]) == "2 crumbs of wafer (12 mg)"


def test_a_keeper_without_scales_reads_no_milligrams_at_the_stop_nor_afterwards() -> None:
    made = doses(plain=True)
    told = [taken(made, SERVINGS[0]).mg, taken(made, SERVINGS[1]).mg]
    told += [given_text(made, SERVINGS[0]), given_text(made, SERVINGS[1])]
    assert not any("mg" in text for text in told)
