"""A posting and an entry come back from their written form exactly."""

from __future__ import annotations

import json
from dataclasses import replace
from datetime import UTC, date, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from schedules.ledger import Entry, Posting, Served, Undone
from schedules.ledger.compact import compact
from schedules.ledger.entries.plan.packed import pack, unpack
from schedules.ledger.entries.plan.posted import CODEC
from schedules.ledger.lines import FIRST_CHAIN, line_of, next_chain, record_from
from tests.ledger.builders import DAY, ENTRIES, MORNING, POSTINGS, due, served

ANY_ENTRY = st.builds(
    Entry,
    seq=st.integers(1, 10**9),
    act=st.integers(1, 10**9),
    day=st.dates(),
    at=st.datetimes(timezones=st.just(UTC)),
    by=st.none() | st.text(st.characters(exclude_categories=["Cs"])),
    what=ENTRIES | POSTINGS | st.builds(Undone, st.integers(1, 10**9)),
)


@settings(max_examples=50, deadline=None)
@given(posting=POSTINGS)
def test_a_posting_comes_back_from_the_file_as_it_was(posting: Posting) -> None:
    assert unpack(CODEC.grow(CODEC.shrink(pack(posting)))) == posting


@settings(max_examples=50, deadline=None)
@given(posting=POSTINGS, first=st.integers(0, 5), last=st.integers(0, 5))
def test_single_days_of_a_posting_are_read_as_they_were(posting: Posting, first: int, last: int) -> None:
    part = unpack(pack(posting), first, last)
    assert part.days == posting.days[first:last]
    assert part.start == posting.start + timedelta(days=first)


def test_the_order_of_each_day_is_kept_even_where_no_order_fits_all_days() -> None:
    one, two = due("t1"), due("t2")
    posting = Posting(DAY, ((one, two), (two, one), (one, one)))
    assert unpack(pack(posting)) == posting


def test_four_weeks_of_a_farm_take_at_most_twenty_kilobytes() -> None:
    """240 tanks with 7 feeds, of which three in ten are due on a day, each with a share of its own."""
    shelf = [due(f"rack-{n // 40}-{n % 40}", f"feed-{k}", part=1 / (n + 2)) for n in range(240) for k in range(7)]
    days = tuple(tuple(one for at, one in enumerate(shelf) if (at * 7 + day * 3) % 10 < 3) for day in range(28))
    assert len(CODEC.shrink(pack(Posting(DAY, days)))) < 20_000


@pytest.mark.parametrize(
    ("name", "value"),
    [
        ("tanks", [3]),
        ("doses", [["morning", "much", "spoon", 1.0, "premixed"]]),
        ("doses", [["morning", 1.0, "spoon", 1.0, "thrown"]]),
        ("doses", [["morning", float("nan"), "spoon", 1.0, "premixed"]]),
        ("part", ["half"]),
        ("days", 10**9),
        ("days", -1),
        ("on", ["not a number"]),
        ("tank", [7]),
        ("start", "yesterday"),
    ],
)
def test_a_posting_of_other_values_is_refused(name: str, value: object) -> None:
    packed = pack(Posting(DAY, ((due(),),)))
    with pytest.raises((ValueError, IndexError)):
        unpack(packed | {name: value})


@settings(max_examples=50, deadline=None)
@given(entry=ANY_ENTRY)
def test_an_entry_comes_back_from_its_line_as_it_was(entry: Entry) -> None:
    line = line_of(entry)
    assert record_from(json.loads(line)).entry == entry
    assert line.isascii()
    assert line.isprintable()


@settings(max_examples=50, deadline=None)
@given(entry=ANY_ENTRY, other=ANY_ENTRY)
def test_two_entries_have_one_chain_only_if_they_are_the_same(entry: Entry, other: Entry) -> None:
    chains = [next_chain(FIRST_CHAIN, line_of(one)) for one in (entry, other)]
    assert (chains[0] == chains[1]) == (entry == other)


@pytest.mark.parametrize(
    "change",
    [{"kind": "eaten"}, {"amount": "1"}, {"amount": True}, {"planned": 1}, {"seq": 1.5}, {"by": 7}, {"tank": None}],
)
def test_a_line_with_values_of_other_types_is_no_entry(change: dict[str, object]) -> None:
    values = json.loads(line_of(Entry(1, 1, DAY, MORNING, "Ana", served())))
    with pytest.raises((ValueError, KeyError)):
        assert record_from(values | change).entry.seq == 1


def test_a_line_says_everything_in_one_way() -> None:
    """The documented form, to the letter: changing it would break every chain there is."""
    what = Served("a1", "moss", "morning", 0.5, "spoon", 60.0, 0.3, True)
    entry = Entry(7, 6, date(2024, 2, 29), MORNING, "Zoë", what)
    assert line_of(entry) == (
        '{"seq":7,"act":6,"day":"2024-02-29","at":"2026-11-25T07:00:00.000000Z","by":"Zo\\u00eb","kind":"served","v":2,'
        '"tank":"a1","feed":"moss","round":"morning","amount":0.5,"unit":"spoon","amount_mg":60.0,"part":0.3,'
        '"planned":true,"broke":null}'
    )
    assert next_chain(FIRST_CHAIN, line_of(entry)).hex() == "844cc1a64ec0b0bc3c4163008971934f"
    assert next_chain(FIRST_CHAIN, line_of(replace(entry, by="Zoe"))).hex() != "844cc1a64ec0b0bc3c4163008971934f"


def test_a_line_of_an_earlier_version_stays_as_it_was_written_and_is_read_as_one_of_today() -> None:
    line = (
        '{"seq":7,"act":6,"day":"2024-02-29","at":"2026-11-25T07:00:00.000000Z","by":"Zo\\u00eb","kind":"served",'
        '"tank":"a1","feed":"moss","round":"morning","amount":0.5,"unit":"spoon","amount_mg":60.0,"share":0.3,'
        '"planned":true,"broke":null}'
    )
    record = record_from(json.loads(line))
    assert record.line == line
    assert next_chain(FIRST_CHAIN, record.line).hex() == "b040a46b2fe264efd14026acde5a5545"
    assert record.entry.what == Served("a1", "moss", "morning", 0.5, "spoon", 60.0, 0.3, True)


def test_what_is_written_compactly_has_no_number_that_is_none() -> None:
    with pytest.raises(ValueError, match="not JSON compliant"):
        compact(float("nan"))
