"""A flag that was seen is set aside for as long as there is no more of it, and comes back when there is."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date, timedelta
from typing import Final

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from schedules.history import history_of, refresh
from schedules.ledger import Acknowledged, AlreadyMarked, LedgerFault, Undone
from schedules.ledger.stores.memory import MemoryLedger
from schedules.review.flags import Flag, FlagKind, Severity, flags
from schedules.review.flags.acknowledged import acknowledgement_of, acknowledgements, set_apart
from schedules.review.flags.evidence import Given
from schedules.review.flags.types import RANK
from schedules.wording.flags import evidence_text
from tests.amounts.rooms import TODAY, Past, at, days_ago, due, make_feed, make_room, make_tank

DUST = make_feed("dust", "powder")
WAFER = make_feed("wafer", "staple", min_gap=2)
GRUB = make_feed("grub", "protein")
FEEDS = (DUST, WAFER, GRUB)
ROOM = make_room(FEEDS, make_tank("a1", FEEDS), make_tank("a2", FEEDS))


def find(past: Past, kind: FlagKind, today: date = TODAY) -> Flag:
    """The only flag of a kind there is."""
    (found,) = (flag for flag in flags(ROOM, past.history(today), at(today, 20)) if flag.kind == kind)
    return found


def see(past: Past, kind: FlagKind, by: str = "Mara") -> None:
    """Write down that the flag of a kind was seen."""
    flag = find(past, kind)
    past.write(acknowledgement_of(flag), flag.day, 50, by)


def is_aside(past: Past, kind: FlagKind, today: date = TODAY) -> bool:
    return acknowledgements(find(past, kind, today), past.history(today)) != ()


def doubled() -> Past:
    return Past().gave("a1", DUST, days_ago(1), 0.4).gave("a1", DUST, days_ago(1), 0.4, broke="again")


def test_a_flag_nobody_has_seen_stands_among_the_others() -> None:
    past = doubled()
    found = flags(ROOM, past.history(), at(TODAY))
    assert set_apart(found, past.history()) == (found, ())


def test_a_flag_that_was_seen_is_set_aside_and_the_others_stay_in_their_order() -> None:
    past = doubled()
    see(past, "doubled")
    found = flags(ROOM, past.history(), at(TODAY))
    standing, aside = set_apart(found, past.history())
    assert [flag.kind for flag in aside] == ["doubled"]
    assert standing == tuple(flag for flag in found if flag.kind != "doubled")


def test_the_entries_that_set_a_flag_aside_are_told_the_first_one_first() -> None:
    past = doubled()
    see(past, "doubled", "Mara")
    see(past, "doubled", "Ben")
    assert [entry.by for entry in acknowledgements(find(past, "doubled"), past.history())] == ["Mara", "Ben"]


def test_an_acknowledgement_undone_sets_nothing_aside_and_of_two_the_other_still_does() -> None:
    past = doubled()
    see(past, "doubled", "Mara")
    see(past, "doubled", "Ben")
    past.write(Undone(4), TODAY)
    assert [entry.by for entry in acknowledgements(find(past, "doubled"), past.history())] == ["Mara"]
    past.write(Undone(3), TODAY)
    assert not is_aside(past, "doubled")


def test_what_was_seen_in_one_tank_sets_nothing_aside_in_another() -> None:
    past = doubled()
    see(past, "doubled")
    past.gave("a2", DUST, days_ago(1), 0.4).gave("a2", DUST, days_ago(1), 0.4, broke="again")
    found = [flag for flag in flags(ROOM, past.history(), at(TODAY)) if flag.kind == "doubled"]
    standing, aside = set_apart(found, past.history())
    assert ([flag.tank for flag in standing], [flag.tank for flag in aside]) == (["a2"], ["a1"])


def test_a_third_serving_in_the_round_brings_a_doubling_back() -> None:
    past = doubled()
    see(past, "doubled")
    past.gave("a1", DUST, days_ago(1), 0.1, broke="again")
    assert not is_aside(past, "doubled")
    see(past, "doubled")
    assert is_aside(past, "doubled")


def test_a_doubling_in_another_round_of_the_day_brings_it_back_and_tells_of_the_later_one() -> None:
    past = doubled()
    see(past, "doubled")
    for _ in range(2):
        past.gave("a1", DUST, days_ago(1), 0.1, round="evening", broke="again")
    assert not is_aside(past, "doubled")
    assert "evening round" in evidence_text(ROOM, find(past, "doubled"))


def test_more_of_the_ration_brings_a_day_above_it_back_before_it_is_a_worse_flag() -> None:
    past = Past().gave("a1", GRUB, days_ago(1), 0.6).gave("a1", WAFER, days_ago(1), 0.6)
    see(past, "over_ration")
    before = find(past, "over_ration")
    past.gave("a1", WAFER, days_ago(1), 0.1, round="evening")
    assert find(past, "over_ration").severity == before.severity
    assert not is_aside(past, "over_ration")


def test_a_day_above_the_ration_with_less_of_it_stays_aside() -> None:
    past = Past().gave("a1", GRUB, days_ago(1), 0.6).gave("a1", WAFER, days_ago(1), 0.6)
    past.gave("a1", WAFER, days_ago(1), 0.5, round="evening")
    see(past, "over_ration")
    past.write(Undone(3), days_ago(1))
    assert find(past, "over_ration").severity == "medium"
    assert is_aside(past, "over_ration")


def test_leftovers_seen_come_back_when_they_are_reported_again() -> None:
    past = Past().gave("a1", WAFER, TODAY, 0.6).saw("a1", WAFER, TODAY, "some")
    see(past, "leftovers")
    assert is_aside(past, "leftovers")
    past.saw("a1", WAFER, TODAY, "none")
    assert is_aside(past, "leftovers")
    past.saw("a1", WAFER, TODAY, "some")
    assert not is_aside(past, "leftovers")


def test_leftovers_seen_come_back_when_there_are_more_of_them() -> None:
    past = Past().gave("a1", WAFER, TODAY, 0.6).saw("a1", WAFER, TODAY, "some")
    flag = find(past, "leftovers")
    past.write(replace(acknowledgement_of(flag), extent=9.0), flag.day)
    assert is_aside(past, "leftovers")
    past.saw("a1", WAFER, TODAY, "most")
    assert find(past, "leftovers").severity == "medium"
    assert not is_aside(past, "leftovers")


def test_shrimplets_that_still_wait_a_day_later_are_flagged_again() -> None:
    past = Past().gave("a1", DUST, days_ago(9), 0.3).gave("a1", WAFER, days_ago(1), 0.3)
    past.gave("a2", DUST, TODAY, 0.3).gave("a2", WAFER, TODAY, 0.3)
    see(past, "no_fine_feed")
    assert is_aside(past, "no_fine_feed")
    assert not is_aside(past, "no_fine_feed", TODAY + timedelta(days=1))


def test_a_serving_sooner_still_on_the_same_day_brings_a_gap_back() -> None:
    past = Past().gave("a1", WAFER, days_ago(2), 0.3).gave("a1", WAFER, days_ago(1), 0.3)
    see(past, "under_gap")
    assert is_aside(past, "under_gap")
    past.gave("a1", WAFER, days_ago(1), 0.3, round="evening")
    assert not is_aside(past, "under_gap")
    assert "the same day as" in evidence_text(ROOM, find(past, "under_gap"))


@pytest.mark.parametrize("more", [2.0, 4.0])
def test_an_amount_further_from_the_planned_one_comes_back(more: float) -> None:
    past = Past().posted(days_ago(1), (due("a1", DUST, 0.2, 20.0),)).gave("a1", DUST, days_ago(1), 0.2 * 3.5)
    see(past, "far_from_planned")
    assert is_aside(past, "far_from_planned")
    past.write(Undone(1), days_ago(1)).gave("a1", DUST, days_ago(1), 0.2 * 3.5 * more, broke="ration")
    assert not is_aside(past, "far_from_planned")


def test_what_was_seen_survives_a_kind_of_flag_that_no_longer_exists() -> None:
    past = doubled().write(Acknowledged("a1", "dust", "of another time", "high", 99.0), days_ago(1))
    assert not is_aside(past, "doubled")


KINDS: Final[tuple[FlagKind, ...]] = ("doubled", "over_ration")
SEVERITIES: Final[tuple[Severity, ...]] = ("high", "medium", "low")
EXTENTS: Final = st.sampled_from((0.0, 1.0, 1.005, 1.02, 2.0, 3.0))
FLAGS: Final = st.builds(
    lambda kind, severity, tank, feed, back, extent: Flag(
        kind,
        severity,
        tank,
        feed,
        days_ago(back),
        Given(()),
        "take_out",
        extent,
    ),
    st.sampled_from(KINDS),
    st.sampled_from(SEVERITIES),
    st.sampled_from(("a1", "a2")),
    st.sampled_from((None, "dust")),
    st.integers(0, 1),
    EXTENTS,
)


@dataclass
class Seen:
    """One acknowledgement in the plain model."""

    flag: Flag
    act: int
    stands: bool = True

    def sets_aside(self, flag: Flag) -> bool:
        return (
            self.stands
            and self.flag.key == flag.key
            and SEVERITIES.index(self.flag.severity) <= SEVERITIES.index(flag.severity)
            and (flag.extent <= self.flag.extent or abs(flag.extent - self.flag.extent) <= 0.01 * self.flag.extent)
        )


@settings(max_examples=150, deadline=None)
@given(
    acts=st.lists(FLAGS | st.integers(1, 12), max_size=14),
    asked=st.lists(FLAGS, min_size=1, max_size=6),
    reads=st.sets(st.integers(0, 13)),
)
def test_flags_are_aside_as_in_a_plain_list_whatever_was_seen_and_undone(
    acts: list[Flag | int], asked: list[Flag], reads: set[int]
) -> None:
    ledger, model = MemoryLedger(), list[Seen]()
    history = history_of(ledger, TODAY)
    for number, act in enumerate(acts):
        if isinstance(act, Flag):
            made = ledger.append([acknowledgement_of(act)], day=act.day, at=at(TODAY), by="Mara")
            model.append(Seen(act, made[0].act))
        else:
            try:
                ledger.append([Undone(act)], day=TODAY, at=at(TODAY), by="Ben")
            except (AlreadyMarked, LedgerFault):
                continue
            for seen in model:
                seen.stands = seen.stands and seen.act != act
        if number in reads:
            set_apart(asked, history)
            history = refresh(history, ledger)
    history = refresh(history, ledger)
    expected = [flag for flag in asked if any(seen.sets_aside(flag) for seen in model)]

    standing, aside = set_apart(asked, history)

    assert list(aside) == expected
    assert [*standing, *aside] == sorted(asked, key=lambda flag: any(flag is each for each in expected))
    for flag in asked:
        told = [entry.act for entry in acknowledgements(flag, history)]
        assert told == [seen.act for seen in model if seen.sets_aside(flag)]


@settings(max_examples=60, deadline=None)
@given(
    st.lists(
        st.tuples(
            st.sampled_from(("a1", "a2")),
            st.sampled_from(FEEDS),
            st.integers(0, 4),
            st.sampled_from((0.2, 0.6, 1.2)),
            st.sampled_from(("morning", "evening")),
        ),
        min_size=1,
        max_size=10,
    ),
    st.integers(0, 9),
)
def test_with_every_flag_seen_only_new_or_worse_ones_stand_after_another_serving(
    servings: list[tuple[str, object, int, float, str]], cut: int
) -> None:
    past = Past()
    for tank, feed, ago, share, round_id in servings[: cut + 1]:
        past.gave(tank, feed, days_ago(ago), share, round=round_id)  # type: ignore[arg-type]
    before = flags(ROOM, past.history(), at(TODAY, 20))
    for flag in before:
        past.write(acknowledgement_of(flag), flag.day)
    assert set_apart(flags(ROOM, past.history(), at(TODAY, 20)), past.history()) == ((), before)
    for tank, feed, ago, share, round_id in servings[cut + 1 :]:
        past.gave(tank, feed, days_ago(ago), share, round=round_id)  # type: ignore[arg-type]
    known = {flag.key: flag for flag in before}

    standing, aside = set_apart(flags(ROOM, past.history(), at(TODAY, 20)), past.history())

    for flag in standing:
        old = known.get(flag.key)
        assert old is None or RANK[flag.severity] < RANK[old.severity] or flag.extent > old.extent
    assert all(flag.key in known for flag in aside)
