"""Commands that print what is planned, due, given or seen. They record nothing but the plan of today."""

from __future__ import annotations

from pathlib import Path
from typing import Final

from tui.cli.parser.commands import Commands
from tui.cli.parser.values import FIRST_YEAR, LAST_YEAR, day, whole

COHORTS_BY: Final = ("tank", "line", "month", "season", "temperature", "feeding")
"""What cohorts can be put side by side by; written here too, since no other command needs the statistics."""


def add_reading(commands: Commands) -> None:
    """Add the commands that print."""
    dashboard = commands.add("open", "open the dashboard on today's round (the same as naming the room file alone)")
    dashboard.add_argument("--only-me", action="store_true", help="no other keeper can act in this window")
    commands.add("check", "read the room file and report every fault")
    plan = commands.add(
        "plan",
        "print the plan of the coming days; with --start or --days a trial plan, which is not posted",
        room=False,
        json=True,
    )
    plan.add_argument("room", type=Path, nargs="?", default=Path(), metavar="ROOM.toml")
    plan.add_argument("--problem", type=Path, metavar="PLAN.json", help="plan the problem inside a plan's JSON")
    plan.add_argument("--start", type=day, metavar="DATE", help="the plan's first day; else today")
    plan.add_argument("--days", type=whole(1, 90), metavar="N", help="how many days, 1 to 90; else 28")
    sheet = commands.add("round", "print the round sheet", json=True)
    sheet.add_argument("--on", type=day, metavar="DATE", help="the round's day; else today")
    sheet.add_argument("--round", metavar="ROUND", help="which round of the day; else the one to walk now")
    missed = commands.add("missed", "print what was missed", json=True)
    missed.add_argument("--since", type=day, metavar="DATE", help="from this day on; else the last 7 days")
    commands.add("flags", "print what was too much, and what was too little", json=True)
    lives = commands.add(
        "lives", "print who lives in which tank, by the room file and all that was seen since", json=True
    )
    lives.add_argument("tank", nargs="?", metavar="TANK", help="one tank in full; else all in short")
    lives.add_argument("--on", type=day, metavar="DATE", help="on which day; else today")
    survival = commands.add(
        "survival", "print what became of each hatch of the last year, side by side", own=("--by",), json=True
    )
    survival.add_argument(
        "--by", dest="by_what", choices=COHORTS_BY, default="tank", help="side by side by this; else by tank"
    )
    lines = commands.add(
        "lines", "print what each line did in a year: hatches, grades kept, culled and sold, moves", json=True
    )
    lines.add_argument("--line", metavar="LINE", help="one line; else all")
    lines.add_argument("--year", type=whole(FIRST_YEAR, LAST_YEAR), metavar="YYYY", help="which year; else this one")
    changed = commands.add("changed", "print what was different in a tank and its rack in the last days", json=True)
    changed.add_argument("tank", metavar="TANK")
    changed.add_argument("--days", type=whole(1, 90), default=14, metavar="N", help="of so many days; else 14")
    commands.add("expected", "print which hatches are expected when, and what to do before", json=True)
    commands.add("prepare", "print what to take, weigh, mix and carry before the round", json=True)
    commands.add("lookback", "print which tanks to look at for leftovers, and when", json=True)
