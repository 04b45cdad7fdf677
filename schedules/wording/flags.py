"""What a flag was read off and what to do about it: one line each, without a full stop."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any, Final

from schedules.amounts.load import DROP_TEST, Load
from schedules.formatting import (
    clock_text,
    counted,
    date_text,
    days_word,
    number_text,
)
from schedules.ledger import Came, Entry, Observed, Served, Sighting, tank_of
from schedules.review.flags import Flag, FlagKind
from schedules.review.flags.evidence import (
    Absent,
    Advice,
    Deaths,
    Given,
    Handled,
    Left,
    LeftTwice,
    TooSoon,
    Waiting,
    WaterFound,
    WeekOver,
)
from schedules.room import Room
from schedules.wording.entries import STAGE_TEXT, feed_name
from schedules.wording.hand import serving_text
from schedules.wording.water.findings import finding_text

ADVICE: Final[Mapping[Advice, str]] = {
    "stop_today": "Give nothing more today and take out what still lies there this evening.",
    "look_for_leftovers": "Look for leftovers and let the next solid feed go if there are any.",
    "pause_fine": "Give no more of it for two days, add air, and watch for haze.",
    "take_out_or_undo": "Take out what is left of it; undo the mark if it was only written twice.",
    "pause_fine_or_undo": "Give no more of it for two days, add air, and watch for haze; "
    "undo the mark if it was only written twice.",
    "pause_fine_and_cut": "Give no more of it for two days, add air, and watch for haze; "
    "the next serving of {feed} is cut.",
    "let_next_go_if_hazy": "Let the next serving of {feed} go if the water is hazy.",
    "give_as_planned_watch_haze": "Give {feed} as planned the next time, and watch for haze today.",
    "undo_slip_or_pause_fine": "Undo the mark and write the true amount, if it was a slip; else give no more of it for "
    "two days, add air, and watch for haze.",
    "leave_out_this_week": "Leave {feeds} out until the next week begins.",
    "keep_to_plan": "Keep to the plan this week.",
    "let_next_go": "Let the next serving of {feed} go if any is still lying there.",
    "pause_sort": "Give nothing of this sort for {gap}.",
    "take_out_and_hold": "Take it out and let the next solid feed go; the next serving of {feed} is cut.",
    "take_out": "Take it out; the next serving of {feed} is cut.",
    "leave_out_once": "Leave {feed} out once and look at the animals before giving it again.",
    "give_as_planned": "Give {feed} as planned the next time, and look for leftovers today.",
    "stir_first": "Stir it into a cup of tank water first, or set an air stone for the round.",
    "open_fresh": "Open a fresh {feed} and write its new date into the room file.",
    "draw_first": "Give the feed that draws them first the next time, so that the adults leave the fine feed alone.",
    "undo_slip_or_look": "Undo the mark and write the true amount, if it was a slip; else look for leftovers today.",
    "undo_slip": "Undo the mark and write the true amount, if it was a slip.",
    "clear_and_test": "Take out solid leftovers, no fine feed for two days, add air; "
    "measure ammonia before the next feed.",
    "look_at_water": "Look at the water and not at the feed: air, filter and temperature first, then measure "
    "ammonia and nitrite.",
    "give_next_round": "Give {feeds} in the next round, the usual amount.",
    "feed_or_note": "Feed it in the next round as planned, or note why it fasts.",
    "look_what_changed": "Look at what changed before, test the water, change no more of it than usual, "
    "and do not feed more.",
    "check_meter_and_make_up": "Check the meter with its standard first; then the make-up water, before more of it "
    "goes into any tank.",
    "bring_back_slowly": "Look for the cause, then bring it back in small steps over days.",
    "read_again": "Read it again with a rinsed meter; if it holds, look at heater, top-off and what was put in, and "
    "correct it over days, not at once.",
    "find_cause": "Look for the cause while there is time: top-off, stone, leak, heater, meter.",
}
WANTED: Final[Mapping[FlagKind, str]] = {
    "no_fine_feed": "fine feed",
    "no_fan_feed": "suspension",
    "no_mineral": "minerals",
}


def evidence_text(room: Room, flag: Flag) -> str:
    """What was found: what, when, by whom, in numbers."""
    return _EVIDENCE[flag.kind](room, flag, flag.evidence)


def advice_text(room: Room, flag: Flag) -> str:
    """The one thing to do."""
    evidence = flag.evidence
    feeds = evidence.feeds if isinstance(evidence, WeekOver | Waiting) else ()
    gap = evidence.gap if isinstance(evidence, TooSoon) else 0
    return ADVICE[flag.advice].format(
        feed="" if flag.feed is None else feed_name(room, flag.feed),
        feeds=" or ".join(feed_name(room, feed) for feed in feeds),
        gap=days_word(gap),
    )


def _over_ration(room: Room, flag: Flag, found: Given) -> str:
    parts = "; ".join(
        f"{_feed(room, entry)} {_served(entry).part:.2f} ({_when(room, entry)})" for entry in found.entries
    )
    return f"{found.total:.2f} of the day's ration on {date_text(flag.day)}: {parts}"


def _doubled(room: Room, flag: Flag, found: Given) -> str:
    parts = "; ".join(f"{_amount(room, entry)} ({_when(room, entry)})" for entry in found.entries)
    times = f"{len(found.entries)} times in the {found.round} round of {date_text(flag.day)}"
    return f"{_feed(room, found.entries[0])} {times}: {parts}"


def _under_gap(room: Room, _flag: Flag, found: TooSoon) -> str:
    which = date_text(found.before) if found.earlier is None else _when(room, found.earlier)
    given = f"{_feed(room, found.later)} given {_when(room, found.later)}"
    return f"{given}, {_after(found.apart)} that of {which}; its gap is {days_word(found.gap)}"


def _under_clock_gap(room: Room, _flag: Flag, found: TooSoon) -> str:
    given = f"{_feed(room, found.later)} given {_when(room, found.later)}, {_after(found.apart)}"
    other = "" if found.earlier is None else f" {_feed(room, found.earlier)} ({_when(room, found.earlier)})"
    return f"{given}{other}; they take turns, {days_word(found.gap)} apart"


def _week_over_target(room: Room, _flag: Flag, found: WeekOver) -> str:
    names = " or ".join(feed_name(room, feed) for feed in found.feeds)
    days = ", ".join(date_text(day) for day in found.days)
    week = f"{counted(len(found.days), 'day')} of the week of {date_text(found.monday)}"
    return f"{names} on {week}, target {found.target:.3g}: {days}"


def _leftovers(room: Room, _flag: Flag, found: Left) -> str:
    return f"{_observed(found.report).leftovers} of {_feed(room, found.report)} was left ({_when(room, found.report)})"


def _leftovers_twice(room: Room, _flag: Flag, found: LeftTwice) -> str:
    earlier = f"{found.first} left of {_amount(room, found.earlier)} ({_when(room, found.earlier)})"
    later = f"{found.second} left of {_amount(room, found.later)} ({_when(room, found.later)})"
    return f"{_feed(room, found.later)}: {earlier}, {later}"


def _raised(room: Room, _flag: Flag, found: LeftTwice) -> str:
    earlier = f"{found.first} left of {_amount(room, found.earlier)} ({_when(room, found.earlier)})"
    later = f"then {_amount(room, found.later)} ({_when(room, found.later)})"
    return f"{_feed(room, found.later)}: {earlier}, {later}, {number_text(found.times)} times as much of the ration"


def _powder_on_still(room: Room, _flag: Flag, found: Handled) -> str:
    when = _when(room, found.entry)
    return f"{_feed(room, found.entry)} strewn on a still surface ({when}), where it floats for a quarter hour"


def _past_date(room: Room, _flag: Flag, found: Handled) -> str:
    best = "" if found.best_before is None else f"{date_text(found.best_before)} {found.best_before.year}"
    return f"{_feed(room, found.entry)}, best before {best}, given {_when(room, found.entry)}"


def _unaccompanied(room: Room, _flag: Flag, found: Handled) -> str:
    given = f"{_feed(room, found.entry)} given ({_when(room, found.entry)}) beside nothing that draws the adults"
    since = "" if found.since is None or found.days == 1 else date_text(found.since)
    times = f", as on {found.days} days since {since}" if since else ""
    return f"{given}, with {counted(found.adults, 'adult')}{times}"


def _far_from_planned(room: Room, _flag: Flag, found: Handled) -> str:
    due = found.planned
    planned = "" if due is None else serving_text(room, due)
    given = f"{_feed(room, found.entry)}: {_amount(room, found.entry)} given ({_when(room, found.entry)})"
    return f"{given}, planned {planned}: {number_text(found.times)} times that"


def _ammonia_load(_room: Room, flag: Flag, load: Load) -> str:
    day = date_text(flag.day)
    span = f"the feed of {day}" if load.days == 1 else f"the feed of the {load.days} days up to {day}"
    taken = "" if load.measured else ", taken as such"
    test = ", as a drop test would show" if load.days > 1 and load.eaten >= DROP_TEST else ""
    return (
        f"{span} would bring {load.eaten:.2g} mg/L of ammonia nitrogen if eaten{test}, {load.left:.2g} if left, with "
        f"no filter; the chronic limit (EPA 2013) is {load.chronic:.2g} "
        f"(pH {load.ph:.1f}, {load.celsius:.1f} °C{taken})"
    )


def _nobody_came(room: Room, _flag: Flag, found: Absent) -> str:
    to = "; ".join(f"{_feed(room, entry)} in {tank_of(entry.what)} ({_when(room, entry)})" for entry in found.entries)
    return f"nobody came to {len(found.entries)} feeds of rack {found.rack} in the {found.round} round: {to}"


def _waiting(_room: Room, flag: Flag, found: Waiting) -> str:
    stage = STAGE_TEXT[found.stage] if found.stage is not None else "animals"
    who = f"{found.animals} {stage.removesuffix('s') if found.animals == 1 else stage}"
    last = "never fed it since it was entered" if found.last is None else f"last given {date_text(found.last)}"
    return f"{who} without {WANTED[flag.kind]} for {days_word(found.days)}, at most {days_word(found.max_gap)}; {last}"


def _nothing_given(_room: Room, _flag: Flag, found: Waiting) -> str:
    last = "never fed since it was entered" if found.last is None else f"last {date_text(found.last)}"
    return f"nothing given for {days_word(found.days)}; {last}"


def _deaths(_room: Room, flag: Flag, found: Deaths) -> str:
    days = (found.entries[-1].day - found.entries[0].day).days + 1
    within = "on one day" if days == 1 else f"within {days_word(days)}"
    listed = "; ".join(_died(entry, flag.tank) for entry in found.entries)
    return f"{found.heads} found dead {within}: {listed}"


def _water_found(room: Room, _flag: Flag, found: WaterFound) -> str:
    return "; ".join(finding_text(room, finding) for finding in found.findings)


def _died(entry: Entry, tank: str) -> str:
    what = entry.what
    assert isinstance(what, Sighting)
    where = "" if what.tank == tank else f" in {what.tank}"
    stage = STAGE_TEXT[what.stage]
    return f"{what.number.text} {stage.removesuffix('s') if what.heads == 1 else stage}{where} ({date_text(entry.day)})"


_EVIDENCE: Final[Mapping[FlagKind, Callable[[Room, Flag, Any], str]]] = {
    "over_ration": _over_ration,
    "under_gap": _under_gap,
    "under_clock_gap": _under_clock_gap,
    "doubled": _doubled,
    "week_over_target": _week_over_target,
    "leftovers": _leftovers,
    "leftovers_twice": _leftovers_twice,
    "raised_after_leftovers": _raised,
    "powder_on_still": _powder_on_still,
    "unaccompanied": _unaccompanied,
    "past_date": _past_date,
    "far_from_planned": _far_from_planned,
    "ammonia_load": _ammonia_load,
    "nobody_came": _nobody_came,
    "no_fine_feed": _waiting,
    "no_fan_feed": _waiting,
    "no_mineral": _waiting,
    "nothing_given": _nothing_given,
    "ammonia_read": _water_found,
    "water_of_rack": _water_found,
    "water_limit": _water_found,
    "water_step": _water_found,
    "water_drift": _water_found,
    "water_target": _water_found,
    "deaths": _deaths,
    "deaths_in_rack": _deaths,
}


def _served(entry: Entry) -> Served:
    assert isinstance(entry.what, Served)
    return entry.what


def _observed(entry: Entry) -> Observed:
    assert isinstance(entry.what, Observed)
    return entry.what


def _feed(room: Room, entry: Entry) -> str:
    what = entry.what
    return feed_name(room, what.feed) if isinstance(what, Served | Observed | Came) else ""


def _amount(room: Room, entry: Entry) -> str:
    """An amount as it was given: `½ spoon (60 mg)`."""
    return serving_text(room, _served(entry))


def _when(room: Room, entry: Entry) -> str:
    """When and by whom an entry was made, in the room's time: `Tue 24 Nov 07:12, Mara`."""
    by = f", {entry.by}" if entry.by else ""
    return f"{date_text(entry.day)} {clock_text(entry.at, room.zone)}{by}"


def _after(days: int) -> str:
    return "the same day as" if days == 0 else f"{days_word(days)} after"
