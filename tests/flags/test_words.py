"""A flag in words: singular where there is one, and what was never given said so."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from typing import get_args

import pytest

from schedules.ledger.entries import Entry, Served
from schedules.review.flags import Flag, FlagKind
from schedules.review.flags.evidence import Advice, Handled, Waiting
from schedules.wording.flags import ADVICE, advice_text, evidence_text
from schedules.wording.glossary import FLAG_NAMES
from tests.amounts.rooms import TODAY, at, make_feed, make_room, make_tank
from tui.widgets.flag_line import flag_line

DUST = make_feed("dust", "powder")
ROOM = make_room((DUST,), make_tank("a1", (DUST,)))


def flag(kind: FlagKind, evidence: Waiting, advice: Advice = "give_next_round") -> Flag:
    return Flag(kind, "high", "a1", None, TODAY, evidence, advice, evidence.days)


@pytest.mark.parametrize(
    ("evidence", "said"),
    [
        (
            Waiting(1, TODAY - timedelta(days=1), 1, "shrimplet", 1, ("dust",)),
            "1 shrimplet without fine feed for 1 day, at most 1 day; last given Tue 24 Nov",
        ),
        (
            Waiting(6, None, 2, "filter_feeder", 2, ("dust",)),
            "2 filter feeders without fine feed for 6 days, at most 2 days; never fed it since it was entered",
        ),
    ],
)
def test_animals_that_wait_are_counted_in_words(evidence: Waiting, said: str) -> None:
    assert evidence_text(ROOM, flag("no_fine_feed", evidence)) == said
    assert advice_text(ROOM, flag("no_fine_feed", evidence)) == "Give Dust in the next round, the usual amount."


def test_a_tank_that_was_never_fed_is_not_said_to_have_been_fed_last_never() -> None:
    found = flag("nothing_given", Waiting(9, None), "feed_or_note")

    assert evidence_text(ROOM, found) == "nothing given for 9 days; never fed since it was entered"


def test_every_advice_has_its_words() -> None:
    assert set(ADVICE) == set(get_args(Advice))


def test_a_flag_in_one_line_says_its_kind_first_and_its_feed_short_so_that_a_cut_takes_the_least() -> None:
    dust = replace(make_feed("dust", "powder"), name="Shrimplet dust (nettle, yeast)")
    room = make_room((dust,), make_tank("a1", (dust,), surface="still"))
    served = Served("a1", "dust", "morning", 0.5, "spoon", 60.0, 0.6, planned=True)
    entry = Entry(1, 1, TODAY, at(TODAY), "Mara", served)
    found = Flag("past_date", "low", "a1", "dust", TODAY, Handled(entry, best_before=TODAY), "open_fresh")

    line = flag_line(room, found)

    kind, evidence = line.split(" · ", 1)
    assert kind == FLAG_NAMES["past_date"]
    assert "Shrimplet dust" in evidence
    assert "(nettle, yeast)" not in line and "best before" in evidence


def test_what_the_evidence_says_itself_is_not_said_before_it() -> None:
    wafer = make_feed("wafer", "staple")
    room = make_room((wafer,), make_tank("a1", (wafer,)))
    found = Flag("nothing_given", "medium", "a1", None, TODAY, Waiting(9, None), "feed_or_note", 9)

    assert flag_line(room, found).endswith("nothing given for 9 days; never fed since it was entered")
    assert flag_line(room, found).count("nothing given") == 1
