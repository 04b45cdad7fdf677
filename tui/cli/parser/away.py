"""Commands for days away: a leave plan with its sheets, the ticks of a sheet on return; the weekly report."""

from __future__ import annotations

from pathlib import Path
from typing import Final

from tui.cli.parser.commands import Commands
from tui.cli.parser.values import day

PAPERS: Final = ("a4", "letter")


def add_away(commands: Commands) -> None:
    """Add the commands about days away."""
    leave = commands.add(
        "leave", "plan the days away for a helper: few visits, little feed, nothing risky, and what it costs", json=True
    )
    leave.add_argument("--from", dest="first", type=day, metavar="DATE", help="the first day away; today or later")
    leave.add_argument("--to", dest="last", type=day, metavar="DATE", help="the last day away")
    leave.add_argument("--helper", metavar="NAME", help="who feeds on these days")
    leave.add_argument("--sheet", type=Path, metavar="FILE", help="write the helper's sheets: FILE.pdf or FILE.html")
    leave.add_argument("--labels", type=Path, metavar="FILE.pdf", help="write labels for the cups and boxes")
    leave.add_argument("--paper", choices=PAPERS, help="the size of the paper; else letter with US units, a4 without")
    leave.add_argument("--post", action="store_true", help="accept the plan: it is what is due on these days")
    leave.add_argument("--withdraw", action="store_true", help="let the normal plan hold again from today on")
    calendar = commands.add("calendar", "print rounds, chores, days away, hatches, orders as a calendar (RFC 5545)")
    calendar.add_argument("file", type=Path, nargs="?", metavar="FILE.ics", help="write it there; else print it")
    returned = commands.add(
        "returned", "enter the ticks of a helper's sheet: all went as planned, except what is named"
    )
    returned.add_argument(
        "--from", dest="first", type=day, metavar="DATE", help="the first day; else of the last leave"
    )
    returned.add_argument("--to", dest="last", type=day, metavar="DATE", help="the last day; else of the last leave")
    text = "left out: a visit, or tanks of a visit; DAY is a date or its day of the month"
    returned.add_argument("--left", action="append", default=[], metavar="DAY[:TANK,…]", help=text)
    returned.add_argument("--cloudy", action="append", default=[], metavar="DAY[:TANK,…]", help="ticked as cloudy")
    report = commands.add(
        "report", "print a week beside the one before it: rounds, missed, feed, flags, water, hatches", json=True
    )
    report.add_argument("--week", type=day, metavar="DATE", help="a day of the week; else the last whole week")
    report.add_argument("--html", type=Path, metavar="FILE.html", help="write it as a page")
