"""What became of each hatch, and what can be concluded, in plain English."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Final

from schedules.formatting import counted, date_text
from schedules.review.survival import By, Cohort, Grouped
from schedules.review.survival.conditions import Conditions
from schedules.review.survival.feeding import FineFeed
from schedules.review.survival.groups import FEW_COHORTS, FEW_HEADS, apart
from schedules.review.survival.statistics import Share

BAND_TEXT: Final = {
    "under_half": "under half of the planned fine feed given",
    "half_to_80": "half to 80 % of it given",
    "over_80": "over 80 % of it given",
    "unplanned": "no fine feed planned",
}
BAND_SHORT: Final = {
    "under_half": "under half",
    "half_to_80": "half to 80 %",
    "over_80": "over 80 %",
    "unplanned": "none planned",
}
SEASON_TEXT: Final = {
    "dec_to_feb": "December to February",
    "mar_to_may": "March to May",
    "jun_to_aug": "June to August",
    "sep_to_nov": "September to November",
}
SEASON_SHORT: Final = {
    "dec_to_feb": "Dec-Feb",
    "mar_to_may": "Mar-May",
    "jun_to_aug": "Jun-Aug",
    "sep_to_nov": "Sep-Nov",
}
WARMTH_TEXT: Final = {
    "under_22": "under 22 °C",
    "22_to_24": "22 to 24 °C",
    "24_to_26": "24 to 26 °C",
    "26_to_28": "26 to 28 °C",
    "28_and_over": "28 °C and over",
    "unmeasured": "temperature not known",
}
WARMTH_SHORT: Final = {
    "under_22": "< 22 °C",
    "22_to_24": "22-24 °C",
    "24_to_26": "24-26 °C",
    "26_to_28": "26-28 °C",
    "28_and_over": "28 °C +",
    "unmeasured": "not known",
}
BY_TEXT: Final[dict[By, str]] = {
    "tank": "tanks",
    "line": "lines",
    "month": "months",
    "season": "seasons",
    "temperature": "temperatures",
    "feeding": "ways of feeding",
}
_LONG: Final[Mapping[By, Mapping[str, str]]] = {
    "feeding": BAND_TEXT,
    "season": SEASON_TEXT,
    "temperature": WARMTH_TEXT,
}
_SHORT: Final[Mapping[By, Mapping[str, str]]] = {
    "feeding": BAND_SHORT,
    "season": SEASON_SHORT,
    "temperature": WARMTH_SHORT,
}


def percent(part: float) -> str:
    """A part as whole percent."""
    return f"{part * 100:.0f} %"


def share_text(share: Share | None) -> str:
    """A share with its interval."""
    if share is None:
        return "not counted"
    return f"{percent(share.share)} ({percent(share.low)} to {percent(share.high)})"


def cohort_text(cohort: Cohort, began: Conditions) -> str:
    """One hatch: how many, how many of them lived, and the conditions it began under."""
    line = f", line {cohort.line}" if cohort.line else ""
    lived = "; ".join(
        f"at {age} days {share_text(share)}" for age in (30, 60) if (share := cohort.survival(age)) is not None
    )
    return (
        f"{cohort.tank}, {date_text(cohort.day)} {cohort.day.year}: {cohort.born.text} hatched{line}. "
        f"Alive {lived or 'not counted yet'}. {feed_text(began.fed[14])}. {_others_text(began)}"
    )


def feed_text(fed: FineFeed) -> str:
    """How a cohort was fed in its first days."""
    if fed.share is None:
        return f"No fine feed was planned in the first {counted(fed.days, 'day')} known"
    return (
        f"Fine feed in the first {counted(fed.days, 'day')}: {fed.given} of {fed.planned} planned servings given, "
        f"{counted(fed.without, 'day')} without any, {fed.missed} missed"
    )


def _others_text(began: Conditions) -> str:
    """Everything else about the conditions in the first 30 days."""
    warm = "" if began.celsius is None else f", at {began.celsius:.3g} °C"
    whole = began.fed[30]
    given = (
        "" if whole.share is None else f"{percent(whole.share)} of it, {counted(whole.without, 'day')} without any, "
    )
    return (
        f"In the first {counted(whole.days, 'day')} {given}"
        f"{counted(began.missed_rounds, 'round')} missed, {counted(began.flags, 'flag')}{warm}"
    )


def began_text(group: Grouped) -> str:
    """The conditions that the cohorts of a group began under, in one line."""
    first, whole, began = group.began.fed[14], group.began.fed[30], group.began
    fed = "no fine feed planned"
    if first.share is not None and whole.share is not None:
        fed = f"{percent(first.share)} of the fine feed given in 14 days and {percent(whole.share)} in 30"
    return (
        f"{fed}, {counted(whole.without, 'day')} without any, {counted(began.missed_rounds, 'round')} missed, "
        f"{counted(began.flags, 'flag')}"
    )


def group_text(group: Grouped, by: By) -> str:
    """Cohorts that have something in common, in one line."""
    name = group_name(group, by)
    few = ", few" if group.few else ""
    lived = "; ".join(
        f"at {age} days {share_text(share)} of {hatches_text(group.counted[age])}"
        if share
        else f"at {age} days not counted"
        for age, share in group.survival.items()
    )
    known = f"by the deaths known (Kaplan-Meier) {percent(group.curve[60])} at 60 days"
    size = f"{hatches_text(group.cohorts)}, {group.born} young{few}"
    return f"{name}: {size}; alive {lived}; {known}; {began_text(group)}"


def conclusion(groups: Sequence[Grouped], by: By) -> str:
    """What can be concluded, and what cannot."""
    for age in (60, 30):
        for one, other in apart(groups, age):
            more, less = (group_name(each, by) for each in (one, other))
            few = "" if not (one.few or other.few) else " The numbers are small, so look at it again with more hatches."
            return (
                f"At {age} days more lived in {more} than in {less}: the intervals do not meet. "
                f"What else differed between them is not known from this.{few}"
            )
    if all(group.few for group in groups):
        return (
            f"Nothing can be concluded yet: fewer than {FEW_COHORTS} hatches or {FEW_HEADS} young in each. "
            "Count at about 30 and 60 days."
        )
    return f"No difference between {BY_TEXT[by]} can be concluded: all intervals meet."


def hatches_text(number: int) -> str:
    """So many hatches."""
    return "1 hatch" if number == 1 else f"{number} hatches"


def group_name(group: Grouped, by: By) -> str:
    """What a group has in common, in words."""
    return _LONG.get(by, {}).get(group.name, group.name) or "no line"


def group_label(group: Grouped, by: By) -> str:
    """The same in a word or two, for the foot of a plot."""
    return _SHORT.get(by, {}).get(group.name, group.name) or "no line"
