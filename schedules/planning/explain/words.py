"""Reasons in plain English."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from schedules.formatting import need_name
from schedules.planning.explain.reasons import Reason

Names = Mapping[str, str]
"""Feeds' names by id; a feed that is not in it is called by its id."""


def text(reason: Reason, names: Names | None = None) -> str:
    """A reason as a keeper reads it, without a full stop."""
    need = need_name(reason.clock, names or {})
    feeds = _listed(reason.feeds, names or {})
    match reason.code:
        case "since_last":
            return f"{need}: {_days(reason.days)} since the last, {_limit(reason)}"
        case "first_wanted":
            return f"{need}: wanted for {_days(reason.days)}, {_limit(reason)}"
        case "of_week":
            return f"{need}: day {reason.days} of {_number(reason.limit)} this week"
        case "in_turn":
            return f"its turn after {feeds}"
        case "draws":
            return f"draws the adults from {feeds}"
        case "posted":
            return "as posted"
        case _:
            return _against(reason, need, feeds)


def _against(reason: Reason, need: str, feeds: str) -> str:
    match reason.code:
        case "not_wanted":
            return "nobody here needs it that day"
        case "not_open":
            return "it may not be given that day"
        case "feed_gap":
            return f"at least {_days(int(reason.limit or 0))} between two servings: one is given {_when(reason.days)}"
        case "clock_gap" if reason.days == 0:
            return f"{need}: {feeds} is given that day"
        case "clock_gap":
            return f"{need}: at least {_days(int(reason.limit or 0))} apart, {feeds} is given {_when(reason.days)}"
        case "table_full":
            beside = f"beside {feeds}" if feeds else "into a day"
            return f"its part of {_number(reason.limit)} does not fit {beside}"
        case "week_full":
            return f"{need}: the week has its {_number(reason.limit)} days"
        case "repeat":
            return f"it was given last, and {feeds} could be given"
        case "unaccompanied":
            return "no feed that day draws the adults away"
        case "longer_round":
            return f"it would make the longest round {reason.limit or 0:.1f} min longer"
        case "not_posted":
            return "it was not posted for that day"
        case _:
            return "nothing keeps it away"


def texts(reasons: Iterable[Reason], names: Names | None = None, most: int | None = None) -> str:
    """Reasons in one line, at most so many of them."""
    return "; ".join([text(reason, names) for reason in reasons][:most])


def _limit(reason: Reason) -> str:
    if reason.limit is not None and reason.days > reason.limit:
        return "late"
    return f"at most {_number(reason.limit)}"


def _number(value: float | None) -> str:
    return f"{round(value or 0.0, 1):g}"


def _listed(feeds: Iterable[str], names: Names) -> str:
    named = [names.get(feed, feed) for feed in feeds]
    return f"{', '.join(named[:-1])} and {named[-1]}" if len(named) > 1 else "".join(named)


def _days(count: int) -> str:
    return "1 day" if count == 1 else f"{count} days"


def _when(offset: int) -> str:
    known = {0: "that day", -1: "the day before", 1: "the day after"}
    return known.get(offset, f"{_days(abs(offset))} {'earlier' if offset < 0 else 'later'}")
