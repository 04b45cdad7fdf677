"""Commands about the shelf."""

from __future__ import annotations

from schedules.ledger.entries.stock.delivered import MOST_GRAMS
from tui.cli.parser.commands import Commands, Parser
from tui.cli.parser.values import day, number


def add_stock(commands: Commands) -> None:
    """Add the commands about the shelf."""
    commands.add("stock", "print what is there of each feed, when it runs out, and what to order", json=True)
    delivered = _feed(commands, "delivered", "record that a feed was delivered")
    delivered.add_argument("grams", type=number(0, MOST_GRAMS), metavar="GRAMS")
    delivered.add_argument("--lot", metavar="LOT", help="the lot as the pack names it")
    delivered.add_argument("--use-by", type=day, metavar="DATE", help="the use-by date on the pack")
    opened = _feed(commands, "opened", "record that a pack of a feed was opened; from then on its use-by date counts")
    opened.add_argument("--lot", metavar="LOT", help="the lot as the pack names it")
    weighed = _feed(commands, "weighed", "record how much of a feed is on the shelf, all packs together")
    weighed.add_argument("grams", type=number(0, MOST_GRAMS, or_low=True), metavar="GRAMS")
    for parser, what in ((delivered, "came"), (opened, "was opened"), (weighed, "was weighed")):
        parser.add_argument("--on", type=day, metavar="DATE", help=f"the day it {what}; else today")


def _feed(commands: Commands, name: str, text: str) -> Parser:
    parser = commands.add(name, text)
    parser.add_argument("feed", metavar="FEED")
    return parser
