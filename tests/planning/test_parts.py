"""What a serving takes of the ration: worked out by hand, and held to the checker, which finds it by halving."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from schedules.planning import checker
from schedules.planning.problem.parts import parts, parts_of_a_table
from schedules.planning.problem.types import PlanFeed

from .problems import a_feed, a_problem, slots

STAPLE = a_feed(share=0.5, most=1.0)
PROTEIN = a_feed(kind="protein", share=0.4, most=0.6)
MINERAL = a_feed(kind="mineral", share=0.1, most=0.3)
LEAF = a_feed(kind="greens", share=0.0, most=0.0)


@pytest.mark.parametrize(
    ("feeds", "parts_by_hand"),
    [
        ({"pill": STAPLE}, {"pill": 1.0}),
        ({"grub": PROTEIN}, {"grub": 0.6}),
        ({"pill": STAPLE, "grub": PROTEIN}, {"pill": 5 / 9, "grub": 4 / 9}),
        ({"pill": STAPLE, "grub": PROTEIN, "chalk": MINERAL}, {"pill": 0.5, "grub": 0.4, "chalk": 0.1}),
        # Raised by half the protein is at its most and stays there; the mineral goes on to its own.
        ({"grub": PROTEIN, "chalk": MINERAL}, {"grub": 0.6, "chalk": 0.3}),
        ({"chalk": MINERAL}, {"chalk": 0.3}),
        ({"pill": STAPLE, "leaf": LEAF}, {"pill": 1.0, "leaf": 0.0}),
    ],
)
def test_shares_are_raised_together_until_they_are_a_meal(
    feeds: dict[str, PlanFeed], parts_by_hand: dict[str, float]
) -> None:
    assert parts_of_a_table(feeds) == pytest.approx(parts_by_hand)


def test_each_table_of_each_day_is_a_meal_of_its_own() -> None:
    feeds = {"pill": STAPLE, "dust": a_feed(kind="powder", table="fine", share=0.3), "grub": PROTEIN}
    plan = slots((0, "pill"), (0, "dust"), (1, "pill"), (1, "grub"))
    found = parts(a_problem(feeds), plan)
    assert [found[slot] for slot in plan] == pytest.approx([1.0, 1.0, 4 / 9, 5 / 9])


@st.composite
def lawful_tables(draw: st.DrawFn) -> dict[str, PlanFeed]:
    shares = draw(st.lists(st.sampled_from((0.0, 0.1, 0.2, 0.3, 0.4, 0.5)), max_size=4).filter(lambda s: sum(s) <= 1))
    return {
        f"f{number}": a_feed(share=share, most=draw(st.floats(share, 1)) if share else 0.0)
        for number, share in enumerate(shares)
    }


@given(lawful_tables())
def test_no_serving_is_below_its_share_or_above_its_most_and_the_meal_is_full_where_it_can_be(
    feeds: dict[str, PlanFeed],
) -> None:
    found = parts_of_a_table(feeds)
    assert all(feed.share - 1e-9 <= found[name] <= feed.most + 1e-9 for name, feed in feeds.items())
    most = sum(feed.most for feed in feeds.values() if feed.share)
    assert sum(found.values()) == pytest.approx(min(1.0, most))
    judged = checker.parts({name: {"share": feed.share, "most": feed.most} for name, feed in feeds.items()})
    assert found == pytest.approx(judged, abs=1e-6)
