"""One number for one serving: at the stop, in what was given, and in the bottle it comes from."""

from __future__ import annotations

from dataclasses import replace

from hypothesis import given
from hypothesis import strategies as st

from schedules.formatting import number_text
from schedules.ledger import Served
from schedules.review.flags import flags
from schedules.room import Measure
from schedules.round import as_served
from schedules.round.choices import amounts_around
from schedules.round.doses import Doses, mix_round
from schedules.wording.doses import given_text, taken
from schedules.wording.entries import due_text, marked_text
from schedules.wording.flags import evidence_text
from schedules.wording.hand import serving_text
from tests.amounts.rooms import TODAY, Past, at, days_ago, due, make_feed, make_room, make_tank

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
    assert given_text(made.room, made, SERVINGS[0]) == f"{20 / strength:g} mL of the mix (20 mg)"
    assert made.bottles[0].doses[0].mg == 20.0


def test_crumbs_of_a_wafer_are_told_as_crumbs_at_the_stop_and_afterwards() -> None:
    made = doses()
    assert taken(made, SERVINGS[1]).amount == "2 crumbs of wafer"
    assert given_text(made.room, made, SERVINGS[1]) == "2 crumbs of wafer (12 mg)"


def test_a_keeper_without_scales_reads_no_milligrams_at_the_stop_nor_afterwards() -> None:
    made = doses(plain=True)
    told = [taken(made, SERVINGS[0]).mg, taken(made, SERVINGS[1]).mg]
    told += [given_text(made.room, made, SERVINGS[0]), given_text(made.room, made, SERVINGS[1])]
    assert not any("mg" in text for text in told)


def doors(plain: bool) -> tuple[Doses, dict[str, list[str]]]:
    """What every door says about the powder and about the wafer that are due today, once they were given."""
    made = doses(plain=plain)
    room = made.room
    past = Past().posted(days_ago(1), SERVINGS, SERVINGS)
    for serving in SERVINGS:
        past.write(as_served(serving), TODAY)
    said: dict[str, list[str]] = {}
    for serving, entry in zip(SERVINGS, past.entries, strict=True):
        found = taken(made, serving)
        _, choices = amounts_around(made, room.feeds[serving.feed], serving)
        stop = f"{found.amount} ({found.mg})" if found.mg else found.amount
        assert isinstance(entry.what, Served)
        said[serving.feed] = [
            stop,
            given_text(room, made, serving),
            given_text(room, made, entry.what),
            marked_text(room, entry),
            due_text(room, serving),
        ]
        (as_due,) = [each for each in choices if each.as_due]
        assert as_due.measures == serving.amount
        assert as_due.ml is None or f"{number_text(as_due.ml)} mL" == found.amount
    slip = Past().posted(TODAY, SERVINGS)
    for serving in SERVINGS:
        slip.write(as_served(serving, serving.amount * 4), TODAY)
    for flag in flags(room, slip.history(), at(TODAY)):
        if flag.kind == "far_from_planned":
            said[flag.feed or ""].append(evidence_text(room, flag).split("planned ")[1])
    return made, said


def test_every_door_says_the_same_number_for_one_serving() -> None:
    made, said = doors(plain=False)

    assert len(said["dust"]) == len(said["wafer"]) == 6
    assert all("20 mg" in text for text in said["dust"])
    assert all("2 crumbs of wafer (12 mg)" in text for text in said["wafer"])
    (dose,) = made.bottles[0].doses
    assert (dose.mg, f"{number_text(dose.ml)} mL") == (20.0, taken(made, SERVINGS[0]).amount)


def test_in_plain_mode_no_door_says_milligrams() -> None:
    _, said = doors(plain=True)

    assert [text for texts in said.values() for text in texts if "mg" in text] == []
    assert all("2 crumbs of wafer" in text for text in said["wafer"])


@given(st.floats(1e-4, 20.0))
def test_an_amount_that_is_given_is_never_said_to_be_nothing(mg: float) -> None:
    for feed in FEEDS:
        serving = due("a1", feed, 0.5, mg)
        for plain in (False, True):
            room = replace(ROOM, tools=replace(ROOM.tools, plain=plain))
            words = serving_text(room, serving).replace("(", " ").split()
            assert "0" not in words
