"""Each cost of a plan, worked out by hand on rooms small enough to count on one's fingers, and held to the checker."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st

from schedules.planning import checker
from schedules.planning.problem.costs import cost
from schedules.planning.problem.types import LastAnswer, Problem, Slot
from tests.bench.plan_document import document

from .problems import a_clock, a_feed, a_problem, problems, slots


def test_an_overdue_day_is_counted_from_the_last_answer_or_the_day_before_it_was_first_wanted() -> None:
    feeds = {"dust": a_feed(kind="powder"), "film": a_feed(kind="biofilm")}
    fine = a_clock("dust", "film", max_gap=2, overdue=300, wanted_since=0)
    problem = a_problem(feeds, {"fine": fine})
    # Nothing at all: day 0 is one day after day -1, so day 1 is the first of six overdue days.
    assert cost(problem, ()).overdue == 6 * 300
    # Either feed answers: days 1 and 3 leave 5 and 6 overdue.
    assert cost(problem, slots((1, "dust"), (3, "film"))).overdue == 2 * 300


def test_an_overdue_day_of_a_long_wait_goes_on_from_the_ledger() -> None:
    fine = a_clock("dust", max_gap=3, overdue=50, wanted_since=-9, last=LastAnswer(-2, "dust"))
    problem = a_problem({"dust": a_feed(last=-2)}, {"fine": fine})
    # Day 1 is three days after day -2; served on day 2, day 5 and 6 are overdue again.
    assert cost(problem, slots((2, "dust"))).overdue == 50 * 3


def test_a_run_of_wanted_days_begins_with_a_clock_that_starts_over() -> None:
    clock = a_clock("dust", max_gap=2, overdue=10, wanted=(0, 1, 4, 5, 6), wanted_since=0)
    # Served on day 0: day 1 is one day on; the run of days 4 to 6 counts from day 3, so days 5 and 6 are overdue.
    assert cost(a_problem({"dust": a_feed()}, {"fine": clock}), slots((0, "dust"))).overdue == 20


def test_powder_alone_among_adults_costs_five_each() -> None:
    feeds = {
        "dust": a_feed(kind="powder", table="fine", draws=False),
        "film": a_feed(kind="biofilm", table="fine", draws=False),
        "pill": a_feed(),
        "leaf": a_feed(kind="greens", draws=False),
    }
    problem = a_problem(feeds, adults=(0, 1, 2))
    plan = slots((0, "dust"), (0, "film"), (1, "dust"), (1, "pill"), (2, "dust"), (2, "leaf"), (3, "dust"))
    # Day 0 two, day 1 none as the pill draws, day 2 one as the leaf does not, day 3 none as no adult is there.
    assert cost(problem, plan).unaccompanied == 3 * 5


def test_a_week_counts_wanted_days_answered_against_its_part_of_the_target() -> None:
    feeds = {"pill": a_feed(days=14), "grub": a_feed(days=14)}
    clock = a_clock("pill", "grub", days=14, per_week=3.5, wanted=(*range(7), 7, 8, 9, 10))
    problem = a_problem(feeds, {"ground": clock}, days=14)
    plan = slots((0, "pill"), (0, "grub"), (3, "pill"), (12, "pill"))
    # First week: 2 days (two servings of one day are one) of 3.5. Second: 0 of 3.5 x 4 / 7 = 2, day 12 is not wanted.
    assert cost(problem, plan).weekly == 10 * (1.5 + 2)


def test_the_first_week_counts_its_days_before_the_plan_and_a_week_without_its_sunday_none() -> None:
    clock = a_clock("pill", days=7, per_week=7, wanted_since=-9, earlier_days=1, earlier_wanted=2)
    feeds = {"pill": a_feed()}
    # From a Wednesday: days 0 to 4 and two before them; served once before and once after, of 7.
    problem = a_problem(feeds, {"ground": clock}, start=a_problem({}).start.replace(day=25))
    assert cost(problem, slots((4, "pill"))).weekly == 10 * (7 - 2)
    assert cost(problem, slots((4, "pill"), (6, "pill"))).weekly == 10 * (7 - 2)


def test_a_repeat_costs_only_where_another_feed_could_have_been_given() -> None:
    feeds = {"pill": a_feed(), "wafer": a_feed(open=(0, 2, 4))}
    clock = a_clock("pill", "wafer", rotate=True, last=LastAnswer(-2, "pill"))
    problem = a_problem(feeds, {"staple": clock})
    # Days 0 and 2 repeat while the wafer could be given, day 3 repeats while it could not.
    assert cost(problem, slots((0, "pill"), (2, "pill"), (3, "pill"))).repeat == 2 * 20
    assert cost(problem, slots((0, "wafer"), (2, "pill"))).repeat == 0


def test_the_longest_round_costs_thirty_a_minute() -> None:
    feeds = {"pill": a_feed(minutes=1.5), "dust": a_feed(round="evening", minutes=2.0), "grub": a_feed(minutes=1.0)}
    plan = slots((0, "pill"), (0, "grub"), (1, "dust"), (1, "pill"))
    assert cost(a_problem(feeds), plan).longest_round == 30 * 2.5


def test_changes_of_posted_days_cost_two_each_and_half_a_point_from_day_seven_on() -> None:
    posted = (*slots((0, "pill"), (6, "pill"), (7, "pill"), (9, "pill")), Slot(1, "gone", "gone"))
    problem = a_problem({"pill": a_feed(days=14)}, days=14, posted=posted, posted_days=9)
    found = cost(problem, slots((0, "pill"), (5, "pill"), (8, "pill"), (10, "pill")))
    # Day 6 and the tank that is gone are missed, day 5 is new; later 7 is missed, 8 is new. Day 9 on was not posted.
    assert (found.churn, found.late_churn) == (3 * 2, 2 * 0.5)
    assert found.total == sum(
        (found.overdue, found.unaccompanied, found.weekly, found.repeat, found.longest_round, 6, 1)
    )


@given(problems(), st.data())
@settings(max_examples=150, deadline=None)
def test_the_checker_finds_the_same_costs_in_any_servings(problem: Problem, data: st.DataObject) -> None:
    places = [
        Slot(day, name, feed)
        for name, tank in problem.tanks.items()
        for feed in tank.feeds
        for day in range(problem.days)
    ]
    given_slots = data.draw(st.sets(st.sampled_from(places), max_size=25))
    found, judged = cost(problem, given_slots), checker.costs(document(problem, sorted(given_slots)))
    for name in ("overdue", "unaccompanied", "weekly", "repeat", "longest_round", "churn", "late_churn", "total"):
        assert abs(getattr(found, name) - judged[name]) < 1e-6, name
